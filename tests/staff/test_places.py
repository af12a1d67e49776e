"""The places in the head of every page."""

import pytest

from shop.staff.places import places_for
from shop.staff.roles import CAPABILITIES, Role


def here(role, path):
    return [place.name for place in places_for(CAPABILITIES[role], path) if place.here]


@pytest.mark.parametrize(
    ("path", "place"),
    [
        ("/orders/26-0001/", ["Orders"]),
        ("/office/staff/", ["Office"]),
        ("/instruments/3/measurements/", ["Customers"]),
        ("/find/", []),
        ("/password/", []),
    ],
)
def test_the_place_a_page_lies_in_is_marked(path, place):
    assert here(Role.OWNER, path) == place


def test_a_place_shows_only_to_those_who_may_go_there():
    names = [place.name for place in places_for(CAPABILITIES[Role.BENCH], "/")]
    assert "Bench" in names
    assert not {"Counter", "Invoices", "Mail"} & set(names)


def test_nobody_has_no_places():
    assert places_for(frozenset(), "/") == []
