"""Reminding of overdue invoices: three levels, each at the shop's own interval and in its own words, never sooner.

The first may go `days` after the due day, each further one `days` after the one before. A reminder whose mail failed
or was withdrawn counts as not sent.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from itertools import islice

from django.db import transaction
from django.db.models import prefetch_related_objects
from django.utils import timezone

from shop.billing.models import Invoice
from shop.handover import mails, making
from shop.handover.models import UNSENT, MailWording, Reminder
from shop.handover.wordings import MAILS, REMINDERS
from shop.lib.dates import today
from shop.lib.sorting import Column, Sorting
from shop.lib.templatetags.said import day
from shop.orders import services as orders
from shop.orders.services import NotAllowed

MOST_AT_ONCE = 100  # of a page, which has fewer


COLUMNS = (
    Column("number", "Invoice", ("number",)), Column("customer", "Customer", ("customer__name", "pk")),
    Column("open", "Open", ("balance__open_amount", "pk"), css="num", down=True),
    Column("due", "Due", ("balance__due_on", "pk")),
    Column("last", "Last reminded"), Column("next", "Next"),
)  # fmt: skip
HEADS = ("invoice", "customer", "open", "currency", "due", "days overdue", "last reminded", "next")
AT_ONCE = 500


@dataclass(frozen=True)
class Next:
    """The reminder that comes next, and the first day on which it may go."""

    level: int
    may_go_on: date

    @property
    def name(self):
        return REMINDERS[self.level - 1]

    @property
    def title(self):
        return MAILS[self.name].title


@dataclass(frozen=True)
class Overdue:
    """An overdue invoice on the page of reminders. `next` is None when all levels have been used."""

    invoice: Invoice
    last: Reminder | None
    next: Next | None
    days_late: int
    too_soon: str  # a sentence; '' when the reminder may go now
    unreachable: str  # why no mail can go, a sentence; the reminder may go as a letter then

    @property
    def may_mail(self):
        return not self.too_soon and not self.unreachable

    @property
    def by_post(self):
        """Whether it may go now, and only as a letter."""
        return bool(self.unreachable) and not self.too_soon


def intervals():
    """The days before each level, by the shop's own words or the usual ones."""
    own = dict(MailWording.objects.filter(name__in=REMINDERS, days__isnull=False).values_list("name", "days"))
    return [own.get(name, MAILS[name].days) for name in REMINDERS]


def next_of(invoice, sent, days):
    """The Next reminder of `invoice` of which `sent` have gone, oldest first; None after the last."""
    if len(sent) >= len(days):
        return None
    since = sent[-1].sent_on if sent else invoice.due_on
    return Next(len(sent) + 1, since + timedelta(days=days[len(sent)]))


def sent_of(invoice):
    """The invoice's reminders that went or are on their way, oldest first."""
    return [one for one in invoice.reminders.all() if one.mail is None or one.mail.state not in UNSENT]


def overdue(person, query):
    """(overdue invoices that `person` sees, sorting) as the address asks; usually the longest due first."""
    sorting = Sorting(COLUMNS, query.get("sort"), usual="due")
    found = Invoice.objects.for_person(person).overdue(today=today()).with_parties()
    return found.order_by(*sorting.order_by), sorting


def looked_at(invoices):
    """How reminding of each of these stands today. Three queries, however many they are."""
    prefetch_related_objects(invoices, "order__customer", "reminders__mail", "reminders__letter")
    days, on = intervals(), today()
    silenced = mails.silenced_among(one.order.customer for one in invoices)
    return [_overdue(one, days, on, silenced) for one in invoices]


def rows(found):
    """A row an invoice, read in pieces: there may be many."""
    found = found.iterator(chunk_size=AT_ONCE)
    while some := list(islice(found, AT_ONCE)):
        for one in looked_at(some):
            invoice, last = one.invoice, one.last.sent_on if one.last else None
            yield (
                invoice.number, invoice.customer.name, invoice.balance.open_amount, invoice.currency, invoice.due_on,
                one.days_late, last, one.too_soon or one.unreachable or one.next.title,
            )  # fmt: skip


def standing_of(invoice):
    """How reminding of one invoice stands today; None while it is not overdue."""
    settled = invoice.is_credit_note or invoice.is_credited or invoice.balance.open_amount <= 0
    return None if settled or invoice.due_on >= today() else _overdue(invoice, intervals(), today(), None)


def _overdue(invoice, days, on, silenced):
    sent = sent_of(invoice)
    coming = next_of(invoice, sent, days)
    unreachable = mails.why_not(invoice.order.customer, silenced=silenced)
    last = sent[-1] if sent else None
    return Overdue(invoice, last, coming, (on - invoice.due_on).days, _too_soon(coming, on), unreachable)


def _too_soon(coming, on):
    if coming is None:
        return "All three reminders have gone; what comes next is for you to decide."
    if on < coming.may_go_on:
        return f"The {coming.title.lower()} may go from {day(coming.may_go_on)}."
    return ""


def remind(invoice, *, by):
    """Mail the reminder that is due, and write down that it went; None when the customer cannot be mailed.

    Raises NotAllowed when nothing is open, when it is too soon, and after the last level.
    """
    paper = making.invoice_paper(invoice, by=by)
    return _remind(invoice, paper, by=by)


@transaction.atomic
def _remind(invoice, paper, *, by):
    held, coming = may_go_now(invoice)
    mail = mails.reminder(coming.name, held, paper, by=by)
    if mail:
        keep(held, coming, by=by, mail=mail)
    return mail


def may_go_now(invoice):
    """(the invoice as it stands, locked with its order; the Next reminder of it). Called inside a transaction.

    Raises NotAllowed when nothing is open, when it is too soon, and after the last level. Two who press at once: the
    second finds the first one's reminder.
    """
    orders.locked(invoice.order)
    held = Invoice.objects.select_related("balance", "order__customer", "order__instrument").get(pk=invoice.pk)
    if held.is_credit_note or held.balance.open_amount <= Decimal(0):
        raise NotAllowed("Nothing of this invoice is open.")
    coming = next_of(held, sent_of(held), intervals())
    if refusal := _too_soon(coming, today()):
        raise NotAllowed(refusal)
    return held, coming


def keep(invoice, coming, *, by, **how):
    """Write down that the reminder went: `how` is its mail or its letter. One that failed before gives way to it."""
    given = {"sent_on": today(), "open_amount": invoice.balance.open_amount, "at": timezone.now(), "by": by}
    Reminder.objects.update_or_create(
        invoice=invoice, level=coming.level, defaults=given | {"mail": None, "letter": None} | how
    )


@dataclass(frozen=True)
class Reminded:
    """What came of reminding several: how many mails went in the queue, and why others did not."""

    queued: int
    refused: tuple  # sentences


def remind_all(invoices, *, by):
    """Remind of each of `invoices` that may be reminded of now. One that is refused stops no other."""
    queued, refused = 0, []
    for one in invoices:
        try:
            mail = remind(one, by=by)
        except NotAllowed as refusal:
            refused.append(f"{one.number}: {refusal}")
            continue
        if mail:
            queued += 1
        else:
            refused.append(f"{one.number}: {mails.why_not(one.order.customer)}")
    return Reminded(queued, tuple(refused))
