"""What the lines come to, while they are ticked and typed."""

import pytest

from shop.orders.models import WorkOrder
from tests.counter_builders import form_data, price

pytestmark = pytest.mark.django_db


def said(client, **typed):
    return client.post("/counter/reckon/", form_data(**typed)).content.decode()


def test_items_and_free_lines(as_person, cleo):
    setup = price("Setup", "85.00")
    text = said(
        as_person(cleo),
        **{"job-items": [str(setup.pk)], "lines-0-text": "Wire", "lines-0-price": "4,25", "lines-0-quantity": "2"},
    )
    assert "€93.50" in text


def test_a_line_that_is_half_typed_is_left_out(as_person, cleo):
    text = said(as_person(cleo), **{"lines-0-text": "Wire", "lines-0-price": "four"})
    assert "No line yet" in text


@pytest.mark.parametrize("items", [["x"], ["999999"], ["-1"], ["1" * 30]])
def test_nonsense_is_left_out(as_person, cleo, items):
    assert "No line yet" in said(as_person(cleo), **{"job-items": items})


def test_it_changes_nothing(as_person, cleo):
    said(as_person(cleo))
    assert not WorkOrder.objects.exists()


def test_get_is_refused(as_person, cleo):
    assert as_person(cleo).get("/counter/reckon/").status_code == 405
