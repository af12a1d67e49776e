"""What comes to the shelf and what leaves it: on hand is the sum of movements and nothing else."""

import uuid
from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import DatabaseError, transaction

from shop.stock import services
from shop.stock.levels import level_of, on_hand
from shop.stock.models import Movement
from tests.counter_builders import price
from tests.stock_builders import part

pytestmark = pytest.mark.django_db


def test_on_hand_is_the_sum(ada):
    item = part()
    services.receive(item, Decimal(10), by=ada, cost=Decimal("2.50"), note="4411")
    services.use(item, Decimal(3), order_number="26-0001", line_key=1, by=ada)
    services.put_back(item, Decimal(1), order_number="26-0001", line_key=1, by=ada)
    services.send_back(item, Decimal(2), by=ada, note="wrong thread")
    assert on_hand(item) == 6
    services.count(item, Decimal(5), by=ada)
    assert on_hand(item) == 5
    assert [row.quantity for row in item.movements.order_by("pk")] == [10, -3, 1, -2, -1]


def test_a_delivery_sets_the_cost_and_what_is_on_the_way(ada):
    item = part()
    services.mark_sent({item.pk: Decimal(6)})
    services.receive(item, Decimal(4), by=ada, cost=Decimal("3.10"))
    item.refresh_from_db()
    assert (item.on_order, item.cost) == (2, Decimal("3.10"))
    services.receive(item, Decimal(4), by=ada)
    item.refresh_from_db()
    assert (item.on_order, item.ordered_on) == (0, None)


def test_a_use_keeps_what_it_cost_then(ada):
    item = part(cost=Decimal("2.00"))
    made = services.use(item, Decimal(1), order_number="26-0001", line_key=1, by=ada).movement
    services.receive(item, Decimal(1), by=ada, cost=Decimal("9.00"))
    made.refresh_from_db()
    assert made.cost == Decimal("2.00")


def test_below_zero_is_told_and_not_refused(ada):
    outcome = services.use(part(), Decimal(2), order_number="26-0001", line_key=1, by=ada)
    assert outcome.on_hand == -2
    assert "now −2" in outcome.warning or "now -2" in outcome.warning


def test_the_same_press_counts_once(ada):
    item, key = part(), uuid.uuid4()
    for _ in range(2):
        services.receive(item, Decimal(4), by=ada, key=key)
    assert on_hand(item) == 4


def test_a_count_that_finds_what_is_on_file_is_written_down(ada):
    item = part(found=4, by=ada)
    services.count(item, Decimal(4), by=ada)
    assert item.movements.count() == 2
    assert level_of(item).counted_at is not None


@pytest.mark.parametrize("act", [
    lambda item, by: services.receive(item, Decimal(0), by=by),
    lambda item, by: services.count(item, Decimal(-1), by=by),
    lambda item, by: services.send_back(item, Decimal(1), by=by, note=" "),
    lambda item, by: services.receive(price("Setup"), Decimal(1), by=by),
])  # fmt: skip
def test_nonsense_is_refused_with_a_sentence(ada, act):
    with pytest.raises(services.NotAllowed, match=r"\.$"):
        act(part(), ada)
    assert not Movement.objects.exists()


def test_a_movement_never_changes(ada):
    movement = services.receive(part(), Decimal(4), by=ada).movement
    for attempt in (movement.save, movement.delete):
        with pytest.raises(ValidationError):
            attempt()
    with pytest.raises(DatabaseError, match="never changes"), transaction.atomic():
        Movement.objects.update(quantity=9)
