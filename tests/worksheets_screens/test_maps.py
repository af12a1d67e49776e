"""Buzz map and cents map: every mark where its string and fret are, mirrored for the left hand, said in words."""

import re

import pytest

from shop.worksheets.checks.bench import Bench
from shop.worksheets.drawings import buzz_field, cents_field
from shop.worksheets.numbers import numbers_of
from shop.worksheets.wording.said import Said
from tests.worksheets.plan_cast import TWELVE, received, sheet, strings
from tests.worksheets_screens.drawing_numbers import BUZZ, NUMBERS
from tests.worksheets_screens.test_drawings_to_scale import SVG, bars, parsed


def marks(root, shape, css):
    return [one for one in root.iter(f"{SVG}{shape}") if one.get("class") == css and one.get("data-fret")]


def test_a_strike_is_a_cross_between_its_frets_on_its_string():
    root = parsed(buzz_field(NUMBERS))
    cross = marks(root, "line", "dg-amiss")
    assert {(one.get("data-string"), one.get("data-fret")) for one in cross} == {("4", "7")}
    middle = sum(float(one.get("x1")) + float(one.get("x2")) for one in cross) / 4
    per_mm = bars(root)[0]
    wanted = (BUZZ["fret_x"][5] + BUZZ["fret_x"][6]) / 2
    nut = next(float(one.get("x1")) for one in root.iter(f"{SVG}line") if one.get("stroke-width") == "3")
    assert (middle - nut) / per_mm == pytest.approx(wanted, abs=0.3)


def test_a_near_miss_of_the_open_string_is_a_ring_beside_the_nut():
    (ring,) = marks(parsed(buzz_field(NUMBERS)), "circle", "dg-close")
    assert (ring.get("data-string"), ring.get("data-fret")) == ("2", "0")


def test_bars_are_to_one_scale_and_past_the_range_they_differ():
    root = parsed(cents_field(NUMBERS))
    (past,) = marks(root, "rect", "dg-past")
    assert (past.get("data-string"), past.get("data-fret")) == ("3", "12")
    assert len(marks(root, "rect", "dg-within")) == 6 * 22 - 1
    tall = [abs(float(one.get("y1")) - float(one.get("y2"))) for one in root.iter(f"{SVG}line")
            if one.get("class") == "dg-scale" and one.get("x1") == one.get("x2")]  # fmt: skip
    per_cent = max(tall) / 5.0
    assert float(past.get("height")) / per_cent == pytest.approx(4.0, abs=0.01)


@pytest.mark.parametrize("draw", [buzz_field, cents_field])
def test_a_left_handed_board_is_the_mirror_image(draw):
    right, left = (parsed(draw(NUMBERS, mirrored=one)) for one in (False, True))
    there = {one.get("data-fret"): one for one in [*right.iter()] if one.get("data-string")}
    back = {one.get("data-fret"): one for one in [*left.iter()] if one.get("data-string")}
    for fret, one in there.items():
        if one.tag == f"{SVG}rect":
            middle = [float(each.get("x")) + float(each.get("width")) / 2 for each in (one, back[fret])]
            assert sum(middle) == pytest.approx(380, abs=0.05)


def test_they_are_said_in_words():
    assert buzz_field(NUMBERS).sentence.endswith("strike a fret: string 4 held at 7.")
    assert "string 3 at fret 12, 4.0 cents flat" in cents_field(NUMBERS).sentence


def test_without_readings_they_say_what_they_need():
    found = numbers_of(Bench(sheet({}), Said()))
    for draw in (buzz_field, cents_field):
        assert draw(found).svg == ""
        assert "read" in draw(found).sentence


@pytest.mark.parametrize("rows", [TWELVE, TWELVE[-4:]])
def test_four_to_twelve_strings_fit(rows):
    numbers = [one[0] for one in rows]
    values = received(numbers, height_12=1.7, nut_gap=0.15, octave=1.0) | {"received.relief": 0.2}
    found = numbers_of(Bench(sheet(values, strings=strings(rows)), Said()))
    for draw in (buzz_field, cents_field):
        drawing = draw(found)
        _, _, width, height = map(float, re.search(r'viewBox="([^"]+)"', drawing.svg)[1].split())
        for one in parsed(drawing).iter(f"{SVG}text"):
            assert 0 <= float(one.get("x")) <= width
            assert 0 <= float(one.get("y")) <= height
