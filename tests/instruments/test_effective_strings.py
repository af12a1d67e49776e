"""The strings that a worksheet takes over. Usual sets and tunings: common practice, no source."""

import pytest

from shop.instruments import services
from shop.instruments.kinds import Kind
from shop.instruments.stringsets import SETS
from shop.instruments.tunings import usual_tuning
from tests import factories

pytestmark = pytest.mark.django_db


def test_without_a_record_the_usual_set_is_assumed():
    strings = services.effective_strings(factories.instrument())
    assert [one["number"] for one in strings] == [6, 5, 4, 3, 2, 1]
    assert [one["midi"] for one in strings] == [40, 45, 50, 55, 59, 64]
    assert all(one["assumed"] for one in strings)
    assert strings[0]["diameter_mm"] == pytest.approx(0.046 * 25.4, abs=1e-4)
    assert strings[0]["material"] == "wound_nickel"


def test_no_usual_set_leaves_notes_and_gauges_open():
    strings = services.effective_strings(factories.instrument(string_count=9))
    assert len(strings) == 9
    assert {one["midi"] for one in strings} == {None}
    assert {one["diameter_mm"] for one in strings} == {None}


def test_what_was_written_down_holds():
    one = factories.instrument(kind="bass", string_count=4)
    services.fit_strings(
        one,
        [
            {"number": number, "midi": 40 - number, "material": "plain_steel", "diameter_mm": 0.5, "core_mm": None}
            for number in range(1, 5)
        ],
    )
    strings = services.effective_strings(one)
    assert [string["midi"] for string in strings] == [36, 37, 38, 39]
    assert not any(string["assumed"] for string in strings)


def test_a_string_added_later_is_assumed_beside_those_written_down():
    one = factories.instrument(kind="bass", string_count=4)
    services.fit_strings(
        one, [{"number": 1, "midi": 43, "material": "plain_steel", "diameter_mm": 0.5, "core_mm": None}]
    )
    assert [string["assumed"] for string in services.effective_strings(one)] == [True, True, True, False]


@pytest.mark.parametrize("one", SETS, ids=lambda one: one.key)
def test_every_usual_set_has_a_tuning_and_falls_from_thin_to_thick(one):
    notes = usual_tuning(one.kind, one.count)
    assert None not in notes
    if one.count in (4, 5, 6, 7) and one.kind != Kind.OTHER:
        assert notes == sorted(notes, reverse=True)
        steel = [gauge.diameter_mm for gauge in one.gauges if one.kind != Kind.NYLON]
        assert steel == sorted(steel)
