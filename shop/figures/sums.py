"""What the figures are made of: each function is one question about one month, of one branch or of all.

Rows come back as plain dictionaries that JSON can keep. Amounts are added up by the database; the arithmetic that has
to be exact, such as taking tax out of an amount, is done in Decimal from those sums. A month is given by its days and
its moments, which an index finds, never by asking each row which month it is in.
"""

from bisect import bisect_right
from collections import defaultdict
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.db.models import Avg, Case, Count, Exists, F, Max, Min, OuterRef, Q, Subquery, Sum, Value, When
from django.db.models.functions import Abs, Coalesce
from django.utils import timezone

from shop.billing.models import Invoice, InvoiceLine
from shop.figures.models import Question
from shop.lib.dates import next_month
from shop.orders.models import Agreement, WorkOrder
from shop.stock.models import ItemKind, Movement, MovementKind
from shop.worksheets.models import Reading, Stage, Standing, Worksheet

DAYS = (3, 7, 14, 28)  # turnaround is told in these steps
LATE_DAYS = (0, 3, 7)
BACK_WITHIN = timedelta(days=90)
MOVES_OF = {"relief": "relief", "height_12": "height at fret 12", "octave": "octave"}


@dataclass(frozen=True)
class Span:
    """A month in the workshop's zone: the first days of it and of the next, and the moments at which those begin."""

    first: date

    @property
    def next(self):
        return next_month(self.first)

    @property
    def days(self):
        return {"issued_on__gte": self.first, "issued_on__lt": self.next}

    def moments(self, name):
        """The condition that the moment `name` of a row is in the month."""
        return {f"{name}__gte": _start_of(self.first), f"{name}__lt": _start_of(self.next)}


def _start_of(day):
    return datetime.combine(day, time.min, tzinfo=timezone.get_current_timezone())


def _at(rows, branch, path="branch"):
    """Those of one branch; of a workshop without branches, or of all of them together (None), all."""
    return rows.all() if branch is None else rows.filter(**{path: branch})


def turnaround(span, branch=None):
    """From book-in to the invoice, which is made when the work is ready; and how that stood to the promise."""
    rows = _at(Invoice.objects.issued(), branch).filter(kind="invoice", turn=1, **span.days).order_by()
    took, late = [], []
    for issued_on, booked_at, promised_on in rows.values_list("issued_on", "order__booked_at", "order__promised_on"):
        took.append((issued_on - timezone.localdate(booked_at)).days)
        if promised_on:
            late.append((issued_on - promised_on).days)
    if not took:
        return []
    found = {"count": len(took), "days": sum(took), "promised": len(late)}
    found |= {f"days_{n}": sum(one <= n for one in took) for n in DAYS}
    return [found | {f"late_{n}": sum(one <= n for one in late) for n in LATE_DAYS}]


def billed(span, branch=None):
    """Sums of issued lines by kind, for work by its text too, and whatever decides how much of them is tax or discount.

    Times are below zero where a credit note takes the work back.
    """
    discount = Coalesce("invoice__corrects__discount_percent", "invoice__discount_percent")
    lines = _at(InvoiceLine.objects, branch, "invoice__branch")
    lines = lines.filter(**{f"invoice__{name}": day for name, day in span.days.items()}).order_by()
    what = Case(When(kind=ItemKind.WORK, then=F("text")), default=Value(""))
    lines = lines.annotate(discount=discount, with_tax=F("invoice__prices_include_tax"), what=what)
    found = lines.values("kind", "what", "tax_rate", "discount", "with_tax", "invoice__kind")
    return [_plain(one) for one in found.annotate(sum=Sum("amount"), count=Sum("quantity"))]


def _plain(row):
    back = row.pop("invoice__kind") == "credit_note"
    return row | {name: str(row[name]) for name in ("tax_rate", "discount", "sum")} | {
        "count": str(-row["count"] if back else row["count"])
    }  # fmt: skip


def cost(span, branch=None):
    """What left the shelf for orders, at what it cost then."""
    used = Movement.objects.at(branch).filter(kind__in=[MovementKind.USED, MovementKind.RETURNED])
    found = used.filter(**span.moments("at")).aggregate(
        total=Sum(F("quantity") * F("cost")), unknown=Count("pk", filter=Q(cost=None))
    )  # fmt: skip
    return [{"total": str(-(found["total"] or 0)), "unknown": found["unknown"]}]


def _timed(span, branch):
    rows = Worksheet.objects.filter(spent_seconds__gt=0, **span.moments("signed_at"))
    return _at(rows, branch, "order__branch").order_by()


def estimated(span, branch=None):
    """Minutes agreed for orders whose worksheet kept time, by the month of its signing."""
    earlier = Worksheet.objects.filter(
        order=OuterRef("order"), signed_at__lt=OuterRef("signed_at"), spent_seconds__gt=0
    )
    agreed = Q(order__lines__agreement=Agreement.AGREED)
    found = _timed(span, branch).filter(~Exists(earlier)).aggregate(
        minutes=Sum("order__lines__minutes", filter=agreed), count=Count("order", distinct=True)
    )  # fmt: skip
    return [found | {"minutes": found["minutes"] or 0}]


def spent(span, branch=None):
    """Seconds that signed worksheets took, as each of them says itself, by the month of signing."""
    return [{"seconds": _timed(span, branch).aggregate(seconds=Sum("spent_seconds"))["seconds"] or 0}]


def returns(span, branch=None):
    """Orders collected in the month, and how many of their instruments came back within ninety days."""
    closed = WorkOrder.objects.at(branch).filter(**span.moments("closed_at")).order_by()
    came = WorkOrder.objects.filter(
        instrument__in=closed.values("instrument"), booked_at__gt=_start_of(span.first),
        booked_at__lte=_start_of(span.next) + BACK_WITHIN,
    ).order_by("booked_at")  # fmt: skip
    booked = defaultdict(list)
    for instrument, moment in came.values_list("instrument", "booked_at"):
        booked[instrument].append(moment)
    rows = list(closed.values_list("instrument", "closed_at"))
    return [{"count": len(rows), "returned": sum(_is_back(booked[one], moment) for one, moment in rows)}]


def _is_back(booked, closed_at):
    """Whether one of the moments `booked`, in their order, is within ninety days after `closed_at`."""
    after = bisect_right(booked, closed_at)
    return after < len(booked) and booked[after] <= closed_at + BACK_WITHIN


def drift(span, branch=None):
    """How far readings moved between two visits: as received less as left the time before, in mm or cents."""
    newest = {"standing": Standing.HOLDS, "replaced_by": None, "value__isnull": False}
    sheets = Worksheet.objects.filter(
        order__instrument=OuterRef("worksheet__order__instrument"), signed_at__lt=OuterRef("worksheet__started_at")
    ).order_by("-signed_at", "-pk")  # fmt: skip
    before = Reading.objects.filter(
        worksheet=OuterRef("previous"), stage=Stage.LEFT, key=OuterRef("key"), **newest
    ).alias(place=Coalesce("string", 0)).filter(place=OuterRef("place")).order_by("-pk")  # fmt: skip
    came = _at(Reading.objects, branch, "worksheet__order__branch").filter(
        stage=Stage.RECEIVED, key__in=MOVES_OF, **span.moments("worksheet__started_at"), **newest
    ).order_by()  # fmt: skip
    placed = came.annotate(place=Coalesce("string", 0), previous=Subquery(sheets.values("pk")[:1]))
    moved = placed.filter(previous__isnull=False).annotate(move=F("value") - Subquery(before.values("value")[:1]))
    by_key = moved.filter(move__isnull=False).values("key")
    return list(by_key.annotate(
        count=Count("move"), mean=Avg("move"), least=Min("move"), most=Max("move"), size=Avg(Abs("move"))
    ))  # fmt: skip


ASK = dict(zip(Question, (turnaround, billed, cost, estimated, spent, returns, drift), strict=True))
