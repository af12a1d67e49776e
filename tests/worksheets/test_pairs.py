"""Strings in pairs: laid out as pairs, twelve by default, and everything that rests on where they lie follows."""

import numpy as np
import pytest

from shop.instruments.services import effective_spec
from shop.instruments.specification import fields_for
from shop.worksheets.checks.bench import Bench
from shop.worksheets.wording.said import Said
from tests import factories
from tests.worksheets.plan_cast import TWELVE, received, sheet, spec, strings

NUMBERS = [one[0] for one in TWELVE]


def twelve(**gaps):
    values = received(NUMBERS, height_12=1.7, nut_gap=0.15) | {"received.relief": 0.2}
    known = spec() | {key: {"value": value, "assumed": False} for key, value in gaps.items()}
    return Bench(sheet(values, strings=strings(TWELVE), spec=known), Said())


def test_pairs_lie_a_gap_apart_and_their_middles_evenly():
    lateral = twelve(pair_gap_bridge_mm=2.3, pair_gap_nut_mm=1.8).part("layout").lateral
    assert lateral[-1] - lateral[0] == pytest.approx(51.0)
    assert np.diff(lateral)[::2] == pytest.approx(np.full(6, 2.3))
    assert np.diff((lateral[::2] + lateral[1::2]) / 2) == pytest.approx(np.full(5, (51.0 - 2.3) / 5))


def test_the_nut_has_a_gap_of_its_own():
    neck = twelve(pair_gap_bridge_mm=2.3, pair_gap_nut_mm=1.8).part("layout").neck
    assert np.diff(neck.lateral_nut_mm)[::2] == pytest.approx(np.full(6, 1.8))


def test_single_strings_lie_evenly():
    lateral = twelve(pair_gap_bridge_mm=0.0).part("layout").lateral
    assert np.diff(lateral) == pytest.approx(np.full(11, 51.0 / 11))


def test_twelve_strings_are_taken_for_pairs_and_six_are_not_asked():
    asked = {one.key: one for one in fields_for("two_post_stop", 12)}
    assert asked["pair_gap_bridge_mm"].typical_for("electric", 12) == 2.3
    assert "pair_gap_bridge_mm" not in {one.key for one in fields_for("two_post_stop", 6)}


def test_the_record_of_a_twelve_string_has_them(db):
    one = factories.instrument(string_count=12)
    known = effective_spec(one)
    assert (known["pair_gap_bridge_mm"]["value"], known["pair_gap_nut_mm"]["value"]) == (2.3, 1.8)
