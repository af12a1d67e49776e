"""Parts on orders: kept for them, taken with the line in one transaction, put back, booked off with the check."""

from decimal import Decimal

import pytest

from shop.orders import services as orders
from shop.orders.models import Agreement, Line
from shop.orders.services import NewLine
from shop.orders.services.parts import waiting_orders
from shop.orders.states import State
from shop.stock.levels import level_of, on_hand
from shop.stock.models import Movement
from tests.stock_builders import agreed, part

pytestmark = pytest.mark.django_db


def test_agreed_lines_of_open_orders_are_reserved(ada):
    item = part(found=5, by=ada)
    order, _line = agreed(item, ada, 2)
    assert (level_of(item).reserved, level_of(item).free) == (2, 3)
    assert waiting_orders(item) == [(order.number, Decimal(2))]
    orders.move(order, State.DECLINED, by=ada, reason="next year")
    assert level_of(item).reserved == 0


def test_a_proposed_line_reserves_nothing(ada):
    item = part(found=5, by=ada)
    _order, line = agreed(item, ada)
    orders.ask_again(line, by=ada)
    assert level_of(item).reserved == 0


def test_taking_and_putting_back(ada):
    item = part(found=5, by=ada)
    order, line = agreed(item, ada, 2)
    assert orders.take(line, by=ada).on_hand == 3
    assert level_of(item).reserved == 0
    with pytest.raises(orders.NotAllowed, match="already"):
        orders.take(line, by=ada)
    assert orders.put_back(line, by=ada).on_hand == 5
    assert {"part_taken", "part_back"} <= set(order.events.values_list("what", flat=True))


def test_a_part_reached_for_goes_on_the_line_that_has_it(ada):
    item = part(found=5, by=ada)
    order, line = agreed(item, ada)
    used, outcome = orders.use_part(order, NewLine.of(item), by=ada)
    assert (used.pk, outcome.on_hand) == (line.pk, 4)


def test_another_part_becomes_a_line_that_the_customer_is_asked_for(ada):
    item = part(found=5, by=ada)
    order, _line = agreed(item, ada)
    strings = part("Strings", kind="strings")
    used, _outcome = orders.use_part(order, NewLine.of(strings), by=ada)
    assert used.agreement == Agreement.PROPOSED
    assert order.holds.filter(key="lines", lifted_at=None).exists()


def test_line_and_movement_stand_or_fall_together(ada, monkeypatch):
    item = part(found=5, by=ada)
    order, _line = agreed(item, ada)
    strings = part("Strings", kind="strings")
    before = (Line.objects.count(), Movement.objects.count())

    def full_disk(*_args, **_fields):
        raise OSError

    monkeypatch.setattr("shop.orders.services.parts.note", full_disk)
    with pytest.raises(OSError):
        orders.use_part(order, NewLine.of(strings), by=ada)
    assert (Line.objects.count(), Movement.objects.count()) == before


def test_a_line_taken_off_gives_its_part_back(ada):
    item = part(found=5, by=ada)
    _order, line = agreed(item, ada)
    orders.take(line, by=ada)
    orders.remove_line(line, by=ada)
    assert on_hand(item) == 5


def test_with_the_check_what_was_agreed_leaves_the_shelf(ada):
    item = part(found=5, by=ada)
    order, _line = agreed(item, ada, 2)
    orders.move(order, State.ON_BENCH, by=ada)
    orders.move(order, State.CHECKED, by=ada, reason="played through")
    assert (on_hand(item), level_of(item).reserved) == (3, 0)


def test_nothing_is_taken_for_an_order_that_is_over(ada):
    item = part(found=5, by=ada)
    order, line = agreed(item, ada)
    orders.move(order, State.DECLINED, by=ada, reason="no")
    with pytest.raises(orders.NotAllowed, match="declined"):
        orders.take(line, by=ada)


def test_what_is_kept_is_exact_to_the_hundredth(ada):
    """0.1 and 0.2 are no 0.3 to a database that adds in binary."""
    item = part()
    for quantity in ("0.10", "0.20", "8.31", "9.20"):
        agreed(item, ada, Decimal(quantity))
    assert str(level_of(item).reserved) == "17.81"
