"""What the figures are made of: each function is one question that the database adds up by month.

Months are given as (first day of the earliest month). Rows come back as plain dictionaries; the arithmetic that has to
be exact, such as taking tax out of an amount, is done in Decimal from sums that the database kept exact.
"""

from datetime import timedelta

from django.db.models import (
    Avg,
    Count,
    DateTimeField,
    DurationField,
    Exists,
    ExpressionWrapper,
    F,
    IntegerField,
    Max,
    Min,
    OuterRef,
    Q,
    Subquery,
    Sum,
)  # fmt: skip
from django.db.models.functions import Abs, Cast, Coalesce, TruncDate, TruncMonth

from shop.billing.models import Invoice, InvoiceLine
from shop.orders.models import Agreement, WorkOrder
from shop.stock.models import ItemKind, Movement, MovementKind
from shop.worksheets.models import Reading, Stage, Standing, Worksheet

DAYS = (3, 7, 14, 28)  # turnaround is told in these steps
LATE_DAYS = (0, 3, 7)
MOST_READINGS = 20_000  # the newest; more would tell nothing new
BACK_WITHIN = timedelta(days=90)
MOVES_OF = {"relief": "relief", "height_12": "height at fret 12", "octave": "octave"}


def _at(rows, branch, path="branch"):
    """Those of one branch; of a workshop without branches, or of all of them together (None), all."""
    return rows.all() if branch is None else rows.filter(**{path: branch})


def turnaround(since, branch=None):
    """From book-in to the invoice, which is made when the work is ready; and how that stood to the promise."""
    took = ExpressionWrapper(F("issued_on") - TruncDate("order__booked_at"), output_field=DurationField())
    late = ExpressionWrapper(F("issued_on") - F("order__promised_on"), output_field=DurationField())
    day = timedelta(days=1)
    steps = {f"days_{n}": Count("pk", filter=Q(took__lte=n * day)) for n in DAYS}
    lateness = {f"late_{n}": Count("pk", filter=Q(late__lte=n * day)) for n in LATE_DAYS}
    rows = _at(Invoice.objects.issued(), branch).filter(kind="invoice", turn=1, issued_on__gte=since).order_by()
    return rows.annotate(month=TruncMonth("issued_on"), took=took, late=late).values("month").annotate(
        count=Count("pk"), promised=Count("late"), mean=Avg("took"), **steps, **lateness
    )  # fmt: skip


def revenue(since, branch=None):
    """Sums of issued lines by month, kind, and whatever decides how much of them is tax or discount."""
    discount = Coalesce("invoice__corrects__discount_percent", "invoice__discount_percent")
    lines = _at(InvoiceLine.objects, branch, "invoice__branch").filter(invoice__issued_on__gte=since).order_by()
    return lines.annotate(
        month=TruncMonth("invoice__issued_on"), discount=discount, with_tax=F("invoice__prices_include_tax")
    ).values("month", "kind", "tax_rate", "discount", "with_tax").annotate(sum=Sum("amount"))  # fmt: skip


def work(since, branch=None):
    """The same by what the line says, for work."""
    discount = Coalesce("invoice__corrects__discount_percent", "invoice__discount_percent")
    lines = _at(InvoiceLine.objects, branch, "invoice__branch").filter(kind=ItemKind.WORK)
    lines = lines.filter(invoice__issued_on__gte=since).order_by()
    return lines.annotate(discount=discount, with_tax=F("invoice__prices_include_tax")).values(
        "text", "tax_rate", "discount", "with_tax"
    ).annotate(sum=Sum("amount"), count=Sum("quantity"))  # fmt: skip


def cost(since, branch=None):
    """What left the shelf for orders, at what it cost then, by month and kind."""
    used = Movement.objects.at(branch).filter(kind__in=[MovementKind.USED, MovementKind.RETURNED])
    gone = used.filter(at__date__gte=since).order_by()
    return gone.annotate(month=TruncMonth("at"), what=F("item__kind")).values("month", "what").annotate(
        total=-Sum(F("quantity") * F("cost")), unknown=Count("pk", filter=Q(cost=None))
    )  # fmt: skip


def _timed(since, branch=None):
    return _at(Worksheet.objects, branch, "order__branch").filter(spent_seconds__gt=0, signed_at__date__gte=since)


def estimated(since, branch=None):
    """Minutes agreed for orders whose worksheet kept time, by the month of its signing."""
    earlier = Worksheet.objects.filter(order=OuterRef("order"), signed_at__lt=OuterRef("signed_at"))
    agreed = Q(order__lines__agreement=Agreement.AGREED)
    return _timed(since, branch).filter(~Exists(earlier)).order_by().annotate(month=TruncMonth("signed_at")).values(
        "month"
    ).annotate(minutes=Sum("order__lines__minutes", filter=agreed), count=Count("order", distinct=True))  # fmt: skip


def spent(since, branch=None):
    """Seconds that signed worksheets took, as each of them says itself, by the month of signing."""
    sheets = _timed(since, branch).order_by().annotate(month=TruncMonth("signed_at"))
    return sheets.values("month").annotate(seconds=Sum("spent_seconds"))


def returns(since, branch=None):
    """Orders collected in a month, and how many of their instruments came back within ninety days."""
    until = ExpressionWrapper(OuterRef("closed_at") + BACK_WITHIN, output_field=DateTimeField())
    back = WorkOrder.objects.filter(
        instrument=OuterRef("instrument"), booked_at__gt=OuterRef("closed_at"), booked_at__lte=until
    )
    closed = WorkOrder.objects.at(branch).filter(closed_at__date__gte=since).order_by()
    return closed.annotate(month=TruncMonth("closed_at"), back=Exists(back)).values("month").annotate(
        count=Count("pk"), returned=Sum(Cast("back", IntegerField()))
    )  # fmt: skip


def drift(since, branch=None):
    """How far readings moved between two visits: as received less as left the time before, in mm or cents."""
    newest = {"standing": Standing.HOLDS, "replaced_by": None, "value__isnull": False}
    sheets = Worksheet.objects.filter(
        order__instrument=OuterRef("worksheet__order__instrument"), signed_at__lt=OuterRef("worksheet__started_at")
    ).order_by("-signed_at")  # fmt: skip
    before = Reading.objects.filter(
        worksheet=OuterRef("previous"), stage=Stage.LEFT, key=OuterRef("key"), **newest
    ).alias(place=Coalesce("string", 0)).filter(place=OuterRef("place")).order_by("-pk")  # fmt: skip
    came = _at(Reading.objects, branch, "worksheet__order__branch").filter(
        stage=Stage.RECEIVED, key__in=MOVES_OF, worksheet__started_at__date__gte=since, **newest
    ).order_by()  # fmt: skip
    left = Subquery(before.values("value")[:1])
    placed = came.annotate(place=Coalesce("string", 0), previous=Subquery(sheets.values("pk")[:1]))
    moved = placed.filter(previous__isnull=False).annotate(move=F("value") - left).order_by("-pk")[:MOST_READINGS]
    asked = {"count": Count, "mean": Avg, "least": Min, "most": Max}
    wanted = {f"{key}_{name}": ask("move", filter=Q(key=key)) for key in MOVES_OF for name, ask in asked.items()}
    sizes = {f"{key}_size": Avg(Abs("move"), filter=Q(key=key)) for key in MOVES_OF}
    # Over a slice: the database then works the previous reading out once a row, not once an aggregate.
    found = moved.aggregate(**wanted, **sizes)
    names = [*asked, "size"]
    rows = [{"key": key} | {name: found[f"{key}_{name}"] for name in names} for key in MOVES_OF]
    return [row for row in rows if row["count"]]
