"""The states of a work order and the moves between them, as data. Guards live in `services.moving`."""

from django.db import models


class State(models.TextChoices):
    BOOKED_IN = "booked_in", "booked in"
    ASSESSED = "assessed", "assessed"
    QUOTED = "quoted", "quoted"
    AGREED = "agreed", "agreed"
    ON_BENCH = "on_bench", "on the bench"
    WAITING_PARTS = "waiting_parts", "waiting for parts"
    WAITING_CUSTOMER = "waiting_customer", "waiting for the customer"
    CHECKED = "checked", "checked"
    READY = "ready", "ready"
    COLLECTED = "collected", "collected"
    DECLINED = "declined", "declined"
    UNCOLLECTED = "uncollected", "uncollected"


S = State
MOVES = {
    S.BOOKED_IN: (S.ASSESSED, S.QUOTED, S.AGREED, S.DECLINED),
    S.ASSESSED: (S.QUOTED, S.AGREED, S.DECLINED),
    S.QUOTED: (S.AGREED, S.ASSESSED, S.DECLINED),
    S.AGREED: (S.ON_BENCH, S.WAITING_PARTS, S.DECLINED),
    S.ON_BENCH: (S.CHECKED, S.WAITING_PARTS, S.WAITING_CUSTOMER, S.DECLINED),
    S.WAITING_PARTS: (S.ON_BENCH, S.WAITING_CUSTOMER, S.DECLINED),
    S.WAITING_CUSTOMER: (S.ON_BENCH, S.WAITING_PARTS, S.DECLINED),
    S.CHECKED: (S.READY, S.ON_BENCH),
    S.READY: (S.COLLECTED, S.UNCOLLECTED, S.ON_BENCH),
    S.UNCOLLECTED: (S.READY, S.COLLECTED),
    S.DECLINED: (S.COLLECTED, S.ASSESSED),  # returned as it came, or thought better of
    S.COLLECTED: (),
}
# Moves that only the hand-over makes, since something else must happen in the same transaction.
RESERVED = frozenset({S.READY, S.COLLECTED})
# What somebody has to say when the move is made by hand. A worksheet's sign-off says by itself how it was checked.
NEED_REASON = {
    S.WAITING_PARTS: "Say which parts it waits for.",
    S.WAITING_CUSTOMER: "Say what the customer has to answer.",
    S.DECLINED: "Say why it is declined.",
    S.UNCOLLECTED: "Say what was tried to reach the customer.",
    S.CHECKED: "Say how it was checked, since no worksheet says so.",
}
# What the button says.
DEEDS = {
    S.BOOKED_IN: "Booked in",
    S.ASSESSED: "Looked over",
    S.QUOTED: "Quoted to the customer",
    S.AGREED: "Agreed",
    S.ON_BENCH: "Put on the bench",
    S.WAITING_PARTS: "Wait for parts",
    S.WAITING_CUSTOMER: "Wait for the customer",
    S.CHECKED: "Checked without a worksheet",
    S.READY: "Ready after all",
    S.COLLECTED: "Collected",
    S.DECLINED: "Declined: give it back as it came",
    S.UNCOLLECTED: "Not collected",
}
MOVE_NEEDS = {S.CHECKED: "sign worksheets"}  # what a person must be allowed beside moving orders
CLOSED = frozenset({S.COLLECTED})
OPEN = frozenset(set(State) - CLOSED)
NOT_STARTED = (S.BOOKED_IN, S.ASSESSED, S.QUOTED)
AT_BENCH = (S.AGREED, S.ON_BENCH, S.WAITING_PARTS, S.WAITING_CUSTOMER)
TO_DO = (*NOT_STARTED, *AT_BENCH)  # the bench has still to find the time for it
WAITING = (S.WAITING_PARTS, S.WAITING_CUSTOMER)


def may_move(come_from, go_to):
    return State(go_to) in MOVES[State(come_from)]
