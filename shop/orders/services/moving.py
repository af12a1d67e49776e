"""From one state to the next: the guards, and the one function that moves an order."""

from dataclasses import dataclass
from datetime import datetime, time

from django.db import transaction
from django.utils import timezone

from shop.orders.models import Agreement
from shop.orders.services.common import NotAllowed, locked, note
from shop.orders.services.parts import take_agreed
from shop.orders.states import CLOSED, DEEDS, MOVES, NEED_REASON, RESERVED, State

LONGEST_REASON = 300


@dataclass(frozen=True)
class OfferedMove:
    """A move as a person may make it; `refusal` is the sentence that says why it cannot be made now, or ''."""

    to: State
    refusal: str
    asks: str  # the sentence that asks for a reason, or ''

    @property
    def label(self):
        return DEEDS[self.to]


@transaction.atomic
def move(order, to, *, by, reason="", own=False, at=None):
    """Move `order` to state `to`, or raise NotAllowed.

    `own` is said by the room that makes the move for its own reasons: worksheets at sign-off (checked), the
    hand-over (ready, collected). It needs no reason then. `at` is when it happened, if that was not now.
    """
    now_order = locked(order)
    to, come_from = State(to), State(now_order.state)
    reason = " ".join(reason.split())[:LONGEST_REASON]
    problem = why_not(now_order, to, own=own) or ("" if own or reason else NEED_REASON.get(to, ""))
    if problem:
        raise NotAllowed(problem)
    now_order.state, now_order.state_reason = to, reason
    now_order.state_since = at or timezone.now()
    now_order.closed_at = now_order.state_since if to in CLOSED else None
    now_order.save(update_fields=["state", "state_since", "state_reason", "closed_at"])
    text = f"{come_from.label.capitalize()} → {to.label}" + (f": {reason}" if reason else ".")
    note(now_order, by=by, what="moved", text=text, come_from=come_from.value, go_to=to.value, reason=reason)
    if to == State.CHECKED:
        take_agreed(now_order, by=by)
    order.refresh_from_db()
    return order


def noon_of(day):
    """Midday of `day` in the workshop's zone: of what happened at an hour that nobody wrote down."""
    return timezone.make_aware(datetime.combine(day, time(12)))


def why_not(order, to, *, own=False):
    """Why `order` cannot become `to` now, a sentence; '' when it can."""
    come_from = State(order.state)
    if to not in MOVES[come_from]:
        return f"An order that is {come_from.label} cannot become {to.label}."
    if is_reserved(come_from, to) and not own:
        return f"An order becomes {to.label} only by being handed over."
    guard = GUARDS.get(to)
    return guard(order, come_from) if guard else ""


def offered_moves(order):
    """The moves that people make by hand from where `order` stands."""
    return [
        OfferedMove(to, why_not(order, to), NEED_REASON.get(to, ""))
        for to in MOVES[State(order.state)]
        if not is_reserved(State(order.state), to)
    ]


def is_offered(order, to):
    """Whether people make this move by hand, and nothing is in its way now."""
    return any(move.to == to and not move.refusal for move in offered_moves(order))


def is_reserved(come_from, to):
    """Whether only the hand-over makes this move. What was ready once has its papers already."""
    return to in RESERVED and not (come_from == State.UNCOLLECTED and to == State.READY)


def _is_priced(order, _come_from):
    return "" if order.lines.exists() else "Write down the work and its price before it is quoted."


def _is_agreed(order, _come_from):
    answers = set(order.lines.values_list("agreement", flat=True))
    if Agreement.PROPOSED in answers:
        return "A line is neither agreed nor declined yet."
    return "" if Agreement.AGREED in answers else "Nothing is agreed yet."


def _has_work(order, come_from):
    if come_from == State.AGREED and not order.lines.exists():
        return "Write down what is to be done before the work begins."
    return ""


def _is_free(order, _come_from):
    held = next((one for one in order.holds.all() if one.lifted_at is None), None)  # its page has them already
    return f"Something still holds this order: {held.reason}." if held else ""


GUARDS = {
    State.QUOTED: _is_priced,
    State.AGREED: _is_agreed,
    State.ON_BENCH: _has_work,
    State.CHECKED: _is_free,
    State.READY: _is_free,
}
