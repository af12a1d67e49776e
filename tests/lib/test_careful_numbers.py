"""A number that compares with nothing is taken as changed, and asked for again; it stops no form."""

import pytest

from tests.counter_builders import price

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("shown", ["sNaN", "NaN", "Infinity", "1e999"])
def test_a_strange_number_shown_before_is_no_error(as_person, ada, shown):
    item = price()
    sent = {"kind": "work", "name": "Setup", "price": "85.00", "tax_rate": "20", "usual_minutes": "90", "retired": ""}
    answer = as_person(ada).post(f"/prices/{item.pk}/", sent | {"initial-price": shown, "initial-tax_rate": shown})
    assert answer.status_code in (302, 422)
