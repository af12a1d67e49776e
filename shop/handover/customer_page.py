"""What a customer sees of their own order, in plain words; nothing of anybody else's."""

from dataclasses import dataclass
from datetime import date

from django.conf import settings
from django.urls import reverse

from shop.billing.account import account_of
from shop.billing.totals import Totals
from shop.handover.models import Paper
from shop.lib.dates import today
from shop.lib.opening import collect_said, open_said
from shop.lib.throttle import Throttle, network_of
from shop.orders import services as orders
from shop.orders.models import Agreement, Answer, WorkOrder
from shop.orders.opening import local_now, opening_at
from shop.orders.states import State
from shop.staff.branching import place_of
from shop.staff.models import Workshop

# Somebody trying addresses soon waits minutes; a customer who reloads does not.
GUESSES = Throttle("customer-page-guess", free=12, first_wait_s=2, longest_wait_s=600, forget_after_s=3600)
LOOKS = Throttle("customer-page", free=120, first_wait_s=1, longest_wait_s=60, forget_after_s=900)

STANDS = {
    State.BOOKED_IN: "It is safe with us. We have not looked it over yet.",
    State.ASSESSED: "We have looked it over and are working out what it needs.",
    State.QUOTED: "We have told you what the work would cost, and wait for your answer.",
    State.AGREED: "You have agreed. It waits its turn at the bench.",
    State.ON_BENCH: "It is on the bench: we are working on it.",
    State.WAITING_PARTS: "We are waiting for parts.",
    State.WAITING_CUSTOMER: "We have a question and wait for your answer.",
    State.CHECKED: "The work is done and checked. We will tell you when you can fetch it.",
    State.READY: "It is ready. You can fetch it.",
    State.UNCOLLECTED: "It is ready, and has been waiting for you for a while. Please fetch it, or call us.",
    State.COLLECTED: "It is back with you.",
    State.DECLINED: "No work is to be done. You can fetch it as it came.",
}
COLLECTABLE = frozenset({State.READY, State.UNCOLLECTED, State.DECLINED})
PROMISED_WHILE = frozenset(set(State) - {State.READY, State.UNCOLLECTED, State.COLLECTED, State.DECLINED})


@dataclass(frozen=True)
class QuoteRow:
    """A line as it was quoted; `standing` is open, agreed, declined, or gone when it has changed since."""

    kept: dict
    standing: str
    answer: Answer | None


@dataclass(frozen=True)
class CustomerPage:
    order: WorkOrder
    stands: str
    promised_on: date | None
    quote: object
    rows: tuple
    agreed: Totals | None  # of all they have agreed to; None when this quote has no such line
    papers: tuple
    answers: tuple
    together: tuple  # the other orders of the same visit
    comes: str  # when they can come: to collect it, or at all; '' when no hours are written down

    @property
    def may_answer(self):
        return any(row.standing == "open" for row in self.rows)

    @property
    def has_expired(self):
        return self.quote is not None and self.quote.valid_until < today() and not self.may_answer

    @property
    def why_no_answer(self):
        """What somebody is told whose answer comes when none is open, from another window for instance."""
        if self.has_expired:
            return orders.QUOTE_EXPIRED
        if any(row.answer for row in self.rows):
            return "This is answered already; below is how. Call us to change it."
        return "Nothing waits for your answer any more."

    @classmethod
    def of(cls, order):
        quote, lines = orders.quote_in_force(order)
        answers = tuple(order.answers.all())
        last = {one.line_id: one for one in answers}
        rows = tuple(QuoteRow(kept, _standing(line, is_open), last.get(kept["line"])) for kept, line, is_open in lines)
        workshop = place_of(order, Workshop.here())
        agreed = account_of(order, workshop).agreed if any(row.standing == Agreement.AGREED for row in rows) else None
        state = State(order.state)
        promised = order.promised_on if state in PROMISED_WHILE else None
        return cls(order, STANDS[state], promised, quote, rows, agreed, papers_of(order), answers,
                   tuple(WorkOrder.objects.with_parties().together_with(order)),
                   _comes(workshop, state))  # fmt: skip


def _comes(workshop, state):
    opening, now = opening_at(workshop, since=today()), local_now()
    if state in COLLECTABLE:
        return collect_said(opening, now)
    return "" if state == State.COLLECTED else open_said(opening, now)


def _standing(line, is_open):
    if is_open:
        return "open"
    return line.agreement if line is not None else "gone"


def papers_of(order):
    return tuple(Paper.objects.of_order(order))


def address_of(link):
    """The whole address that a mail carries."""
    return f"{settings.PUBLIC_ADDRESS}{reverse('customer-page', args=[orders.token_of(link)])}"


def link_for(request, token):
    """(the link or None, seconds to wait first). Wrong addresses are counted by where they come from."""
    place = network_of(request)
    wait = GUESSES.wait(place)
    if wait:
        return None, wait
    link = orders.link_of(token)
    if link is None:
        return None, GUESSES.take(place)
    return link, LOOKS.take(link.pk)
