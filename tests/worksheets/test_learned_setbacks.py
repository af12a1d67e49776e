"""Set-backs that follow from a fit to finished sheets: a known shop recovered, and where the fit is not to be had."""

from dataclasses import replace

import numpy as np
import pytest

from geometry.fretting import Fretting
from geometry.prediction import fretted_cents
from geometry.setbacks import least_squares_setbacks
from shop.worksheets import learned, usual
from tests import worksheet_builders as build

# A shop whose fingers and string ends are known, because they are invented.
TRUE = Fretting(saddle_clamp=0.7, nut_clamp=0.7, fret_clamp=0.7)
ROOM = np.array([2.0, 3.4, 4.2, 2.4, 4.0, 5.0])
FACING = [0.0] * 3 + [1.0] * 3


def finished(random, *, rise=0.0, noise=0.0, known=TRUE):
    """A sheet whose octaves are what `known` makes of where its saddles stand; its bridge stands anywhere."""
    heights = np.array([1.85, 1.77, 1.69, 1.61, 1.53, 1.45]) + rise + random.normal(0, 0.1)
    values = build.GOOD | build.six("height_12", heights) | build.six("nut_gap", [0.15] * 6)
    values |= build.six("saddle_room_back", ROOM + random.normal(0, 0.4, 6)) | build.six("saddle_facing", FACING)
    values = {name: value for name, value in values.items() if not name.startswith("octave")}
    sheet = build.sheet(values)
    elastic, placement = learned._strings_of(sheet)
    back = usual._places(sheet) + 6.0 + random.normal(0, 1.0)
    placed = replace(placement, saddle_back_mm=back)
    cents = fretted_cents(elastic, placed, fretting=known, frets=[12]).cents[0] + random.normal(0, noise, 6)
    for number, one in zip(sheet.numbers, cents, strict=True):
        sheet = sheet.plus(build.reading(build.Worksheet(**build.snapshot()), f"left.octave:{number}", float(one)))
    return sheet


def fitted(count, seed, **options):
    random = np.random.default_rng(seed)
    sheets = [finished(random, **options) for _ in range(count)]
    made = [learned.finished_of(one, usual._places(one), usual._settled_octaves(one)) for one in sheets]
    return made, random


def wanted(sheet, known=TRUE):
    """What the known shop would need on this instrument."""
    elastic, placement = learned._strings_of(sheet)
    back = least_squares_setbacks(elastic, placement, fretting=known, frets=[12], free="saddle").saddle_mm
    return back - back[-1]


@pytest.mark.parametrize("rise", [0.0, 1.2])
def test_a_known_shop_is_recovered(rise):
    """From exact octaves: every crest to a twentieth of a millimetre, also on an instrument set much higher."""
    made, random = fitted(8, 1)
    other = finished(random, rise=rise)
    share = learned.share_of(made)
    assert share.value == pytest.approx(0.7, abs=0.01)
    assert share.scatter_mm < 0.02
    assert share.count == (8,) * 6
    behind, _ = learned.learned_for(other, share)
    assert behind == pytest.approx(wanted(other), abs=0.05)


def test_a_shop_that_is_not_as_the_model_says_is_recovered_nearly():
    """Ends clamped by different shares, and fingers that press harder: still a tenth of a millimetre at every crest."""
    hard = Fretting(saddle_clamp=0.9, nut_clamp=0.3, fret_clamp=0.4, press_depth_mm=0.1)
    made, random = fitted(8, 6, known=hard)
    other = finished(random, rise=0.5, known=hard)
    assert learned.learned_for(other, learned.share_of(made))[0] == pytest.approx(wanted(other, hard), abs=0.1)


def test_more_than_any_end_can_do_is_no_fit():
    made, _ = fitted(6, 8, known=Fretting(saddle_clamp=1.0, fret_clamp=1.0, press_depth_mm=0.8))
    assert learned.share_of(made) is None


def test_plain_middles_do_not_follow_the_heights_and_the_fit_does():
    """1.2 mm higher at fret 12, the lowest crest belongs further back than on any of the finished instruments."""
    made, random = fitted(8, 2)
    other = finished(random, rise=1.2)
    as_they_were = wanted(finished(random))[0]
    assert wanted(other)[0] - as_they_were > 0.3
    assert abs(learned.learned_for(other, learned.share_of(made))[0][0] - wanted(other)[0]) < 0.05


def test_with_scatter_the_truth_lies_within_what_is_said():
    """Twenty shops with 1.5 cents of scatter: two standard deviations hold nearly all of the crests, and the share's
    errors, in its standard uncertainties, are as a normal distribution has them."""
    inside, scores = [], []
    for seed in range(20):
        made, random = fitted(6, 100 + seed, noise=1.5)
        other, share = finished(random), learned.share_of(made)
        behind, standard = learned.learned_for(other, share)
        inside += (np.abs(behind - wanted(other)) < 2.0 * standard)[:-1].tolist()
        scores.append((share.value - 0.7) / share.standard)
    assert np.mean(inside) > 0.95
    assert standard[-1] == pytest.approx(0.0, abs=1e-9)
    assert abs(np.mean(scores)) < 0.6
    assert 0.6 < np.std(scores) < 1.4


def test_more_instruments_narrow_it():
    few, many = (learned.share_of(fitted(count, 7, noise=1.0)[0]) for count in (3, 30))
    assert many.standard < 0.5 * few.standard


def test_a_sheet_that_carries_too_little_is_left_out():
    """Two strings tell nothing once the bridge's own place is taken out; nor does a sheet without heights."""
    sheet = finished(np.random.default_rng(3))
    place, cents = usual._places(sheet), usual._settled_octaves(sheet)
    assert learned.finished_of(sheet, place, cents) is not None
    assert learned.finished_of(sheet, place, np.where(np.arange(6) < 2, cents, np.nan)) is None
    bare = build.sheet(build.six("saddle_room_back", ROOM) | build.six("left.octave", [0.0] * 6))
    assert learned.finished_of(bare, usual._places(bare), usual._settled_octaves(bare)) is None


def test_an_instrument_that_is_not_read_yet_has_no_fit():
    made, _ = fitted(4, 4)
    assert learned.learned_for(build.sheet({}), learned.share_of(made)) is None
