"""A tap of which only a half arrives is asked for again."""

import pytest

from tests import counter_builders

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("half", [{"mark-x": "0.5"}, {"mark-x": "0.5", "mark-y": ""}, {"mark-y": "0.5"}])
def test_half_a_tap(as_person, cleo, half):
    order = counter_builders.booked(cleo)
    answer = as_person(cleo).post(f"/orders/{order.number}/marks/", {"mark-side": "front", "mark-note": ""} | half)
    assert answer.status_code == 422
    assert order.marks.count() == 0
