"""The table of moves: every pair of states, the guards, and what each needs said."""

from decimal import Decimal

import pytest

from shop.orders import services
from shop.orders.models import Agreement
from shop.orders.services import NewLine, NotAllowed
from shop.orders.states import CLOSED, DEEDS, MOVES, NEED_REASON, RESERVED, State, may_move
from tests.counter_builders import booked

pytestmark = pytest.mark.django_db
SETUP = NewLine("Setup", Decimal(85), Decimal(20))
S = State


def at(order, state):
    type(order).objects.filter(pk=order.pk).update(state=state)
    order.refresh_from_db()
    return order


@pytest.mark.parametrize("come_from", State)
def test_every_pair_of_states(cleo, come_from):
    """With agreed work, a reason and every right, a move is made exactly when the table has it."""
    for go_to in State:
        order = at(booked(cleo, lines=(SETUP,), agreed=True), come_from)
        if may_move(come_from, go_to):
            assert services.move(order, go_to, by=cleo, reason="because", own=True).state == go_to
        else:
            with pytest.raises(NotAllowed, match=rf"An order that is {come_from.label} cannot become {go_to.label}\."):
                services.move(order, go_to, by=cleo, reason="because", own=True)


def test_the_table_is_whole():
    assert set(MOVES) == set(State) == set(DEEDS)
    assert all(MOVES[state] == () for state in CLOSED)
    reached = {state for targets in MOVES.values() for state in targets}
    assert reached == set(State) - {S.BOOKED_IN}


def test_the_work_goes_forward_and_back_again():
    assert may_move(S.READY, S.ON_BENCH)
    assert may_move(S.CHECKED, S.ON_BENCH)
    assert may_move(S.DECLINED, S.ASSESSED)
    assert not may_move(S.COLLECTED, S.READY)


@pytest.mark.parametrize("to", NEED_REASON)
def test_a_reason_where_one_is_needed(cleo, to):
    come_from = next(state for state, targets in MOVES.items() if to in targets)
    order = at(booked(cleo, lines=(SETUP,), agreed=True), come_from)
    with pytest.raises(NotAllowed) as refused:
        services.move(order, to, by=cleo, reason="   ")
    assert str(refused.value) == NEED_REASON[to]


@pytest.mark.parametrize(("come_from", "to"), [(S.CHECKED, S.READY), (S.READY, S.COLLECTED), (S.DECLINED, S.COLLECTED)])
def test_the_hand_over_is_made_on_its_own_page(cleo, come_from, to):
    assert to in RESERVED
    order = at(booked(cleo), come_from)
    with pytest.raises(NotAllowed, match="only by being handed over"):
        services.move(order, to, by=cleo)


def test_what_was_uncollected_is_ready_again_by_hand(cleo):
    order = at(booked(cleo), S.UNCOLLECTED)
    assert services.move(order, S.READY, by=cleo).state == S.READY


def test_nothing_is_quoted_without_a_line(cleo):
    with pytest.raises(NotAllowed, match="before it is quoted"):
        services.move(booked(cleo), S.QUOTED, by=cleo)


def test_nothing_is_agreed_that_nobody_answered(cleo):
    with pytest.raises(NotAllowed, match="Nothing is agreed yet"):
        services.move(booked(cleo), S.AGREED, by=cleo)
    with pytest.raises(NotAllowed, match="neither agreed nor declined"):
        services.move(booked(cleo, lines=(SETUP,)), S.AGREED, by=cleo)


def test_all_declined_is_not_agreed(cleo):
    order = booked(cleo, lines=(SETUP,))
    services.answer_lines(order, order.lines.all(), Agreement.DECLINED, how="by telephone", by=cleo)
    with pytest.raises(NotAllowed, match="Nothing is agreed yet"):
        services.move(order, S.AGREED, by=cleo)


@pytest.mark.parametrize("own", [True, False])
def test_nothing_is_checked_while_something_holds_it(cleo, own):
    order = at(booked(cleo), S.ON_BENCH)
    services.hold(order, key="x", reason="a part is missing")
    with pytest.raises(NotAllowed, match="Something still holds this order: a part is missing"):
        services.move(order, S.CHECKED, by=cleo, reason="played in", own=own)
    services.lift(order, key="x")
    assert services.move(order, S.CHECKED, by=cleo, reason="played in", own=own).state == S.CHECKED


def test_it_is_written_down(cleo):
    order = at(booked(cleo), S.ON_BENCH)
    services.move(order, S.WAITING_PARTS, by=cleo, reason="  studs,\n M8 ")
    assert order.state_reason == "studs, M8"
    event = order.events.get(what="moved")
    assert (event.by, event.text) == (cleo, "On the bench → waiting for parts: studs, M8")
    assert event.data == {"come_from": "on_bench", "go_to": "waiting_parts", "reason": "studs, M8"}


def test_the_reason_goes_with_the_state(cleo):
    order = at(booked(cleo), S.ON_BENCH)
    services.move(order, S.WAITING_PARTS, by=cleo, reason="studs")
    services.move(order, S.ON_BENCH, by=cleo)
    assert order.state_reason == ""


def test_the_end_has_its_time(cleo):
    order = at(booked(cleo), S.READY)
    assert services.move(order, S.COLLECTED, by=cleo, own=True).closed_at is not None


def test_offered_moves_say_what_is_missing(cleo):
    offered = {move.to: move for move in services.offered_moves(booked(cleo))}
    assert set(offered) == {S.ASSESSED, S.QUOTED, S.AGREED, S.DECLINED}
    assert offered[S.ASSESSED].refusal == ""
    assert offered[S.AGREED].refusal == "Nothing is agreed yet."
    assert offered[S.DECLINED].asks == "Say why it is declined."
