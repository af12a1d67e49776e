"""Supposing other strings, tuning, targets or stringing: on a copy, with what the model can tell and no more."""

from dataclasses import replace

import numpy as np
import pytest

from shop.worksheets.checks.bench import Bench
from shop.worksheets.plan.expected import after
from shop.worksheets.whatif import Change, suppose
from shop.worksheets.wording import whatif as words
from shop.worksheets.wording.said import Said
from tests.worksheets.plan_cast import SIX, high, strings

SAID = Said()
HEAVY = tuple(strings([(n, midi, kind, thick * 1.2, core and core * 1.2) for n, midi, kind, thick, core in SIX]))


def test_pull_goes_with_the_square_of_the_gauge_and_the_pitch():
    """Mersenne's law: tension as mass per length, mass as the square of the diameter; a semitone down, 2^(-1/6)."""
    thicker = suppose(high(), Change(strings=HEAVY), said=SAID)
    assert thicker.tension / thicker.tension_before == pytest.approx(np.full(6, 1.44), rel=1e-6)
    down = tuple(one | {"midi": one["midi"] - 1} for one in strings())
    assert suppose(high(), Change(strings=down), said=SAID).total == pytest.approx(
        thicker.total_before * 2 ** (-1 / 6), rel=1e-9
    )


def test_relief_is_not_guessed():
    found = suppose(high(), Change(strings=HEAVY), said=SAID)
    assert found.relief is None
    assert "this neck's own" in words.relief(SAID, found)
    assert found.sheet.value("relief") == 0.45


def test_a_neck_whose_give_is_known_bows_and_heights_go_along():
    known = after(high(), {}, spec={"neck_give_mm": 0.05})
    found = suppose(known, Change(strings=HEAVY), said=SAID)
    wanted = 0.05 * (found.total - found.total_before) / 100.0
    assert found.relief == pytest.approx(wanted)
    assert found.sheet.value("relief") == pytest.approx(0.45 + wanted)
    assert found.sheet.value("height_12", 6) > 2.6


def test_thicker_plain_strings_want_more_set_back():
    found = suppose(high(), Change(strings=HEAVY), said=SAID)
    plain = slice(3, 6)
    assert (found.setback[plain] > found.setback_before[plain]).all()
    assert (found.setback[:, 0] < found.setback[:, 1]).all()
    # Thicker and so sharper with the saddle where it is.
    assert (found.octave[plain] > 0).all()


def test_other_targets_judge_the_same_readings():
    targets = high().targets | {"height_12_bass": [2.5, 2.7], "height_12_treble": [1.9, 2.1]}
    found = suppose(high(), Change(targets=targets), said=SAID)
    assert not Bench(found.sheet, SAID).not_fine("height_12")[0]
    assert found.total == found.total_before


def test_wrapped_over_changes_angle_and_window():
    was, now = (Bench(one, SAID) for one in (high(), suppose(high(), Change(stringing="wrapped"), said=SAID).sheet))
    assert (now.part("tail").path.break_rad < was.part("tail").path.break_rad).all()


def test_unknown_strings_say_so():
    bare = replace(high(), strings=tuple(one | {"diameter_mm": None} for one in strings()))
    found = suppose(bare, Change(strings=HEAVY), said=SAID)
    assert np.isnan(found.setback_before).all()
    assert "cannot be compared" in words.load(found.total_before, found.total)
