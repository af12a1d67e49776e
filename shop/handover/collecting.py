"""Reminding of instruments that are ready and not collected, by the worker, at the shop's own intervals.

The first mail may go some days after the order became ready, each further one some days after the one before, and
after so many there is no more. When the customer has said on which day they come, nothing goes until that day is over.
Days are counted on the workshop's calendar: a clock that is set back sends nothing twice, it only waits longer.
"""

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.db import transaction
from django.db.models import Count, Exists, Max, OuterRef, Q
from django.db.models.functions import Coalesce, Lower
from django.utils import timezone

from shop.handover import mails
from shop.handover.models import CollectionDay, CollectionReminder, SilencedAddress
from shop.lib.dates import is_believable_promise, today
from shop.lib.templatetags.said import day as said_day
from shop.orders import services as orders
from shop.orders.models import WorkOrder
from shop.orders.services import NotAllowed
from shop.orders.states import State
from shop.staff.models import Workshop

WAITS = (State.READY, State.UNCOLLECTED)
BY_DAY = range(9, 18)  # the hours in which a mail that nobody asked for may go
AT_ONCE = 50  # at one look; the next look takes the next
TIMES = ("", "once", "twice")


def remind_due(*, at=None):
    """Queue every reminder that is due at `at`, and return how many. Safe beside other workers and when repeated."""
    here, at = Workshop.here(), at or timezone.now()
    if not here.collect_after_days or timezone.localtime(at).hour not in BY_DAY:
        return 0
    return sum(remind(one, on=timezone.localdate(at)) is not None for one in due(here, on=timezone.localdate(at)))


def due(here, *, on):
    """The orders of which a reminder may go on that day, the longest ready first."""
    again = on - timedelta(days=here.collect_every_days)
    before = timezone.make_aware(datetime.combine(on - timedelta(days=here.collect_after_days - 1), time.min))
    silenced = SilencedAddress.objects.filter(address=Lower(OuterRef("customer__email")))
    rows = WorkOrder.objects.filter(state__in=WAITS, state_since__lt=before, customer__mail_agreed=True)
    rows = rows.exclude(customer__email="").exclude(Exists(silenced)).annotate(
        gone=Count("collection_reminders"), last=Max("collection_reminders__sent_on")
    )  # fmt: skip
    free = Q(collection_day=None) | Q(collection_day__day__lte=again)
    return list(
        rows.filter(free, Q(last=None) | Q(last__lte=again), gone__lt=here.collect_most)
        .order_by("state_since", "pk")[:AT_ONCE]
    )  # fmt: skip


@transaction.atomic
def remind(order, *, on):
    """Queue the next reminder of `order`, if it is still due: everything is asked once more under its lock."""
    held = orders.locked(order)
    stands = standing_of(held)
    if stands is None or stands.may_go_on is None or on < stands.may_go_on:
        return None
    mail = mails.waits(held, by=None)
    if mail is None:
        return None
    return CollectionReminder.objects.create(
        order=held, count=stands.count + 1, sent_on=on, mail=mail, at=timezone.now()
    )


@dataclass(frozen=True)
class Stands:
    """How reminding of one order stands. `may_go_on` is None when no more goes by itself; `why_not` then says why."""

    count: int
    last: date | None
    comes_on: date | None
    may_go_on: date | None
    why_not: str = ""

    @property
    def said(self):
        """'reminded twice, last on Mon 3 Nov'; '' when no reminder has gone."""
        if not self.count:
            return ""
        times = TIMES[self.count] if self.count < len(TIMES) else f"{self.count} times"
        return f"reminded {times}, last on {said_day(self.last)}"

    @property
    def said_with_day(self):
        comes = f"comes on {said_day(self.comes_on)}" if self.comes_on else ""
        return ", ".join(one for one in (self.said, comes) if one)


def told(waiting):
    """{key: what to say of its reminders and of when the customer comes} of the orders that wait; one query."""
    keys = [one.pk for one in waiting if one.state in WAITS]
    if not keys:
        return {}
    return {key: Stands(*known, None).said_with_day for key, known in _known_of(keys).items()}


def _known_of(keys):
    """{order: (how many reminders went, the day of the last, the day on which the customer comes)}."""
    rows = WorkOrder.objects.filter(pk__in=keys).order_by().values_list(
        "pk", Coalesce(Max("collection_reminders__count"), 0), Max("collection_reminders__sent_on"),
        Max("collection_day__day"),
    )  # fmt: skip
    return {key: known for key, *known in rows}


def standing_of(order, here=None):
    """The Stands of an order that waits to be collected; None for any other."""
    if order.state not in WAITS:
        return None
    here = here or Workshop.here()
    count, sent_on, comes_on = _known_of([order.pk])[order.pk]
    why_not = _why_never(order, count, here)
    if why_not:
        return Stands(count, sent_on, comes_on, None, why_not)
    every = timedelta(days=here.collect_every_days)
    ready_on = timezone.localdate(order.state_since)
    days = [ready_on + timedelta(days=here.collect_after_days)]
    days += [one + every for one in (sent_on, comes_on) if one]
    return Stands(count, sent_on, comes_on, max(days))


def _why_never(order, count, here):
    if not here.collect_after_days:
        return "The workshop sends no reminders of what waits."
    if count >= here.collect_most:
        return "No further reminder goes by itself."
    return mails.why_not(order.customer)


@transaction.atomic
def expect(order, day, *, by):
    """Write down on which day the customer comes, or with None that nobody knows. Raises NotAllowed."""
    held = orders.locked(order)
    if held.state not in WAITS:
        raise NotAllowed(f"An order that is {State(held.state).label} is not waited for.")
    if day and not is_believable_promise(day, now=today()):
        raise NotAllowed("Write a day from today on, within two years.")
    known = CollectionDay.objects.filter(order=held).first()
    if (known.day if known else None) == day:
        return
    if day:
        CollectionDay.objects.update_or_create(order=held, defaults={"day": day})
    else:
        known.delete()
    text = f"The customer comes on {said_day(day)}." if day else "Nobody knows any more when the customer comes."
    orders.note(held, by=by, what="collection_day", text=text)
