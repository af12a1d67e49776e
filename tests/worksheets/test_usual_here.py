"""Where the saddles usually end up in this shop: what is learned from, by what, and how it is said."""

import numpy as np
import pytest

from geometry.intonation import intonation_move_mm
from shop.worksheets import usual
from shop.worksheets.sheet import Sheet
from tests import factories
from tests import worksheet_builders as build
from tests.worksheets.test_learned_setbacks import finished
from tests.worksheets.test_since_last_visit import visit

pytestmark = pytest.mark.django_db

ROOMS = ([4.0, 4.4, 4.8, 5.2, 5.6, 6.0], [3.0, 3.6, 3.8, 4.2, 4.4, 5.0], [5.0, 5.2, 5.9, 6.1, 6.7, 7.2])


def shop_of_three(ben):
    """Crests that follow no string's physics: the lowest string's stands 1.5 mm before where it belongs."""
    for rooms in ROOMS:
        guitar = factories.instrument(factories.customer())
        visit(guitar, ben, **build.six("saddle_room_back", rooms), **build.six("left.octave", [0.0] * 6))


def shop_as_predicted(ben, count=4):
    """Finished sheets whose octaves are what the model makes of their saddles' places."""
    random = np.random.default_rng(5)
    for _ in range(count):
        values = {}
        for one in finished(random, noise=0.5).readings:
            stage = "" if one.key in ("saddle_room_back", "saddle_facing", "nut_gap") else "left."
            values[f"{stage}{one.key}" + (f":{one.string}" if one.string else "")] = one.value
        visit_as_read(factories.instrument(factories.customer()), ben, values)


def visit_as_read(guitar, ben, values):
    """Signed with whatever is out accepted: the octaves of these sheets are as they happen to be."""
    done = build.finished(build.at_bench(guitar, ben), ben, **values)
    type(done).objects.filter(pk=done.pk).update(signed_at=done.started_at, signed_by=ben)


def new_sheet(ben, **fields):
    return build.worksheet(build.at_bench(factories.instrument(factories.customer()), ben), ben, **fields)


def usual_of(sheet):
    return usual.usual_for(sheet, Sheet.load(sheet))


def test_without_heights_here_it_is_the_middle_of_the_finished_sheets(ben):
    """numpy's own median, and its standard deviation (n − 1), of the places from the travel alone: octaves true."""
    shop_of_three(ben)
    found = usual_of(new_sheet(ben))
    facing = np.array([-1.0] * 3 + [1.0] * 3)  # flat to the rear carries the crest back by half of 2 mm
    places = -np.array(ROOMS) - facing
    places = places - places[:, -1:]
    assert not found.is_fitted
    assert found.count.tolist() == [3] * 6
    assert found.middle == pytest.approx(np.median(places, axis=0))
    assert found.spread == pytest.approx(places.std(axis=0, ddof=1))


def test_sheets_that_follow_the_string_are_fitted(ben):
    shop_as_predicted(ben)
    sheet = new_sheet(ben)
    build.store(sheet, ben, build.GOOD)
    found = usual_of(sheet)
    assert found.is_fitted
    assert found.count.max() == 4
    # Wound strings towards the lowest, and the plain third, ask for more: common practice, and the model's own answer.
    assert found.middle[0] > found.middle[1] > found.middle[2]
    assert found.middle[3] > found.middle[2]


def test_a_fit_that_does_not_understand_the_sheets_is_not_used(ben):
    """The same crests on every instrument, and yet nothing that a stretched string would do."""
    for _ in range(3):
        guitar = factories.instrument(factories.customer())
        visit(guitar, ben, **build.six("saddle_room_back", [9.0, 2.0, 9.0, 2.0, 9.0, 2.0]),
              **build.six("left.octave", [0.0] * 6))  # fmt: skip
    sheet = new_sheet(ben)
    build.store(sheet, ben, build.GOOD)
    found = usual_of(sheet)
    assert not found.is_fitted
    assert found.middle[0] == pytest.approx(-5.0)


def test_an_octave_that_is_not_true_is_taken_out():
    """2 cents sharp wants the crest about 2 · 628 · ln 2/1200 mm further back: the derivative of 2^(c/1200)."""
    level = usual.behind_highest(np.array([-3.0, -3.0]), np.array([2.0, 0.0]), 628.0)
    assert level[0] == pytest.approx(intonation_move_mm(2.0, open_mm=628.0))
    assert level[0] == pytest.approx(2 * 628 * np.log(2) / 1200, rel=0.01)


def test_other_strings_and_two_instruments_teach_nothing(ben):
    shop_of_three(ben)
    heavy = build.strings([(*row[:3], row[3] * 1.1, row[4]) for row in build.SIX])
    assert usual_of(new_sheet(ben, strings=heavy)) is None


def test_one_instrument_that_comes_often_counts_once(ben):
    guitar = factories.instrument()
    for rooms in ROOMS:
        visit(guitar, ben, **build.six("saddle_room_back", rooms))
    assert usual_of(new_sheet(ben)) is None


def test_the_intonation_step_says_what_it_rests_on(ben, as_person):
    shop_of_three(ben)
    sheet = new_sheet(ben)
    page = as_person(ben).get(f"/bench/{sheet.pk}/intonation/").content.decode()
    assert "Usual here" in page
    assert "The middle of 3 other instruments" in page
    assert "Usual here" not in as_person(ben).get(f"/bench/{sheet.pk}/relief/").content.decode()


def test_the_intonation_step_says_that_it_was_fitted(ben, as_person):
    shop_as_predicted(ben)
    sheet = new_sheet(ben)
    build.store(sheet, ben, build.GOOD)
    page = as_person(ben).get(f"/bench/{sheet.pk}/intonation/").content.decode()
    assert "fitted to the readings of 4 other instruments" in page


def test_two_queries_once_it_is_known(ben, django_assert_num_queries):
    shop_of_three(ben)
    sheet = new_sheet(ben)
    plain = Sheet.load(sheet)
    usual.usual_for(sheet, plain)
    with django_assert_num_queries(2):
        usual.usual_for(sheet, plain)


def test_one_more_finished_sheet_is_learned_from_at_once(ben):
    shop_of_three(ben)
    sheet = new_sheet(ben)
    assert usual_of(sheet).count.max() == 3
    guitar = factories.instrument(factories.customer())
    visit(guitar, ben, **build.six("saddle_room_back", ROOMS[0]))
    assert usual_of(sheet).count.max() == 4
