"""Every family works from the first reading to sign-off, with from four to twelve strings."""

import pytest

from shop.instruments.kinds import BridgeFamily
from shop.orders.states import State
from shop.worksheets import services
from shop.worksheets.evaluation import evaluate_sheet
from shop.worksheets.families import FAMILIES
from shop.worksheets.sheet import Sheet
from tests import factories
from tests import worksheet_builders as build

EVERY = pytest.mark.parametrize("family", list(FAMILIES))
# What no target tells: a plain value that a good setup might show.
PLAIN = {"crest_height_bass": 15.0, "crest_height_treble": 15.0, "stud_bass": 4.0, "stud_treble": 4.0,
         "screw_bass": 2.0, "screw_treble": 1.5}  # fmt: skip
USUAL_KIND = {"pinned": "steel", "tied": "nylon", "floating": "archtop"}
HIGH_BRIDGE = {"floating": 22.0}


def test_every_bridge_that_an_instrument_may_have_has_its_worksheet():
    assert set(FAMILIES) == set(BridgeFamily.values)


def filled(sheet):
    """Every required place read, in the middle of its range."""
    places = [place for place in sheet.places if place.required]
    return {
        f"{place.stage}.{place.key}" + (f":{place.string}" if place.string else ""): _good(sheet, place)
        for place in places
    }


def _good(sheet, place):
    if place.field.unit in ("choice", "yes_no"):
        return 1.0 if place.field.unit == "yes_no" else 0.0
    if place.key.startswith("crest_height"):
        return HIGH_BRIDGE.get(sheet.family.key, PLAIN[place.key])
    low, high = sheet.target(place.field.target_key, place.string)
    return PLAIN.get(place.key, None if low is None else (low + high) / 2)


@EVERY
@pytest.mark.django_db
def test_a_good_setup_is_signed_off(family, ben):
    kind = USUAL_KIND.get(family, "electric")
    order = build.at_bench(factories.instrument(family=family, kind=kind), ben)
    sheet = services.start_worksheet(order, by=ben)
    build.store(sheet, ben, filled(Sheet.load(sheet)))
    for step in sheet.family_plan.steps:
        services.mark_done(sheet, step=step.key, by=ben)
    services.sign_off(sheet, by=ben)
    order.refresh_from_db()
    assert order.state == State.CHECKED


@EVERY
@pytest.mark.parametrize("count", [4, 5, 7, 8, 12])
def test_any_number_of_strings(family, count):
    rows = [(number, 70 - 5 * number, "plain_steel", 0.4, None) for number in range(count, 0, -1)]
    empty = build.sheet(family=family, strings=build.strings(rows))
    sheet = build.sheet(filled(empty), family=family, strings=build.strings(rows))
    evaluation = evaluate_sheet(sheet)
    assert evaluation.finding("height_12:1").verdict == "in_range"
    assert not [one for one in evaluation.findings if one.verdict == "missing"]
    assert evaluation.numbers["neck"]["heights"].keys() == {str(number) for number in range(1, count + 1)}


@EVERY
def test_no_sentence_speaks_of_what_the_family_does_not_have(family):
    """Everything out of range: the moves name only adjusters of this bridge."""
    empty = build.sheet(family=family)
    wrong = {name: value * 2.5 + (6 if "octave" in name else 1) for name, value in filled(empty).items()}
    said = " ".join(one.move for one in evaluate_sheet(build.sheet(wrong, family=family)).findings)
    fields = FAMILIES[family].fields_by_key
    assert ("stud" in said) == (family in ("two_post_stop", "wraparound"))
    assert ("set screw" in said) == ("screw_bass" in fields)
    assert "turned round" not in said or "saddle_facing" in fields
