"""Lines are proposed, answered, changed and taken off, and hold the order while nobody has answered."""

from decimal import Decimal

import pytest

from shop.orders import services
from shop.orders.models import Agreement, Line
from shop.orders.services import NewLine, NotAllowed
from shop.orders.states import State
from tests.counter_builders import booked, price

pytestmark = pytest.mark.django_db
SETUP = NewLine("Setup", Decimal("85.00"), Decimal(20), minutes=90)
NUT = NewLine("New nut", Decimal("110.00"), Decimal(20))
AGREED, DECLINED, PROPOSED = Agreement.AGREED, Agreement.DECLINED, Agreement.PROPOSED


def is_held(order):
    return order.holds.filter(key="lines", lifted_at=None).exists()


@pytest.fixture
def order(cleo):
    return booked(cleo, lines=(SETUP, NUT))


def answer(order, lines, word, by):
    return services.answer_lines(order, lines, word, how="by telephone", by=by)


def test_from_the_price_list_with_its_minutes():
    line = NewLine.of(price("Studs", "14.50", minutes=20, kind="part"), Decimal(2))
    assert (line.text, line.price, line.quantity, line.minutes, line.kind) == ("Studs", Decimal("14.50"), 2, 40, "part")


def test_the_last_answer_agrees_the_order(order, cleo):
    first, second = order.lines.all()
    answer(order, [first], AGREED, cleo)
    assert (order.state, is_held(order)) == (State.BOOKED_IN, True)
    answer(order, [second], DECLINED, cleo)
    assert (order.state, is_held(order)) == (State.AGREED, False)
    first.refresh_from_db()
    assert (first.agreement, first.agreed_how, first.agreed_at is not None) == (AGREED, "by telephone", True)
    assert order.events.get(what="line_agreed").text == "Agreed by telephone: Setup."


def test_all_at_once(order, cleo):
    assert len(answer(order, order.lines.all(), AGREED, cleo)) == 2
    assert order.events.filter(what="line_agreed").count() == 1


def test_the_same_answer_again_changes_nothing(order, cleo):
    answer(order, order.lines.all(), AGREED, cleo)
    assert answer(order, order.lines.all(), AGREED, cleo) == []
    assert order.events.filter(what="line_agreed").count() == 1


def test_another_orders_line_is_not_answered(order, cleo):
    other = booked(cleo, lines=(SETUP,))
    answer(order, other.lines.all(), AGREED, cleo)
    assert other.lines.get().agreement == PROPOSED


def test_work_found_at_the_bench_asks_again(order, cleo, ben):
    answer(order, order.lines.all(), AGREED, cleo)
    services.move(order, State.ON_BENCH, by=ben)
    services.add_lines(order, [NewLine("Loose brace", Decimal(60), Decimal(20))], by=ben)
    assert is_held(order)
    with pytest.raises(NotAllowed, match="neither agreed nor declined"):
        services.move(order, State.CHECKED, by=ben, reason="done", own=True)
    answer(order, order.lines.filter(agreement=PROPOSED), DECLINED, cleo)
    assert services.move(order, State.CHECKED, by=ben, own=True).state == State.CHECKED


def test_a_change_of_what_was_agreed_asks_again(order, cleo):
    answer(order, order.lines.all(), AGREED, cleo)
    line = services.change_line(order.lines.first(), {"price": Decimal("95.00")}, by=cleo)
    assert (line.price, line.agreement, line.agreed_at, line.agreed_how) == (Decimal("95.00"), PROPOSED, None, "")
    assert is_held(order)
    event = order.events.get(what="line_changed")
    assert event.text == "Changed: Setup. The customer has to agree again."
    assert event.data["was"] == {"price": "85.00"}


def test_a_change_of_the_estimate_does_not(order, cleo):
    answer(order, order.lines.all(), AGREED, cleo)
    assert services.change_line(order.lines.first(), {"minutes": 120}, by=cleo).agreement == AGREED


def test_no_change_is_no_change(order, cleo):
    services.change_line(order.lines.first(), {"price": Decimal("85.00")}, by=cleo)
    assert not order.events.filter(what="line_changed").exists()


def test_taken_off_is_remembered(order, cleo):
    services.remove_line(order.lines.first(), by=cleo)
    assert order.lines.get().text == "New nut"
    event = order.events.get(what="line_removed")
    assert (event.text, event.data["was"]["price"]) == ("Taken off: Setup (proposed).", "85.00")


def test_the_last_undecided_line_taken_off_lifts_the_hold(order, cleo):
    for line in order.lines.all():
        services.remove_line(line, by=cleo)
    assert not is_held(order)


def test_an_answer_can_be_taken_back(order, cleo):
    line = order.lines.first()
    answer(order, [line], DECLINED, cleo)
    assert services.ask_again(Line.objects.get(pk=line.pk), by=cleo).agreement == PROPOSED
    with pytest.raises(NotAllowed, match="waits for its answer already"):
        services.ask_again(Line.objects.get(pk=line.pk), by=cleo)


DONE_TO_LINES = {
    "add": lambda order, by: services.add_lines(order, [SETUP], by=by),
    "change": lambda order, by: services.change_line(order.lines.first(), {"price": Decimal(1)}, by=by),
    "remove": lambda order, by: services.remove_line(order.lines.first(), by=by),
    "answer": lambda order, by: answer(order, order.lines.all(), AGREED, by),
    "ask again": lambda order, by: services.ask_again(order.lines.first(), by=by),
}


@pytest.mark.parametrize("does", DONE_TO_LINES.values(), ids=DONE_TO_LINES)
def test_fixed_lines_stay_until_they_are_freed(order, cleo, does):
    before = list(order.lines.values())
    services.fix_lines(order, "invoice R26-0001")
    with pytest.raises(NotAllowed, match="fixed by invoice R26-0001; a credit note frees them"):
        does(order, cleo)
    assert list(order.lines.values()) == before
    services.fix_lines(order, "")
    services.add_lines(order, [SETUP], by=cleo)


@pytest.mark.parametrize("does", DONE_TO_LINES.values(), ids=DONE_TO_LINES)
def test_lines_of_a_collected_order_stay(order, cleo, does):
    type(order).objects.update(state=State.COLLECTED)
    with pytest.raises(NotAllowed, match="its lines stay as they are"):
        does(order, cleo)
