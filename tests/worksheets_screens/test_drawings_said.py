"""Each drawing can be heard, prints without a style sheet, and says what it needs when it cannot be drawn."""

from datetime import date
from xml.etree import ElementTree

import pytest

from shop.worksheets import drawings
from shop.worksheets.evaluation import evaluate_sheet
from shop.worksheets.wording.said import Said
from tests import worksheet_builders as build
from tests.worksheets_screens.drawing_numbers import NUMBERS

SVG = "{http://www.w3.org/2000/svg}"
EVERY = sorted(drawings.DRAWINGS)


@pytest.mark.parametrize("name", EVERY)
@pytest.mark.parametrize("mirrored", [False, True])
def test_it_has_a_title_and_a_sentence(name, mirrored):
    drawing = drawings.drawing_of(name, NUMBERS, mirrored=mirrored)
    root = ElementTree.fromstring(str(drawing.svg))
    said = {one.get("id"): one.text for one in root if one.tag in (f"{SVG}title", f"{SVG}desc")}
    assert [said[name] for name in root.get("aria-labelledby").split()] == [drawing.title, drawing.sentence]
    assert drawing.sentence.endswith(".")


@pytest.mark.parametrize("name", EVERY)
def test_it_needs_no_style_sheet_and_holds_no_inline_style(name):
    root = ElementTree.fromstring(str(drawings.drawing_of(name, NUMBERS).svg))
    shapes = [one for one in root.iter() if one.tag.removeprefix(SVG) in ("path", "line", "rect", "circle")]
    assert shapes
    assert all(one.get("fill") or one.get("stroke") for one in shapes)
    assert not [one for one in root.iter() if one.get("style")]


@pytest.mark.parametrize("name", EVERY)
def test_nothing_is_known_yet(name):
    drawing = drawings.drawing_of(name, {"strings": [6, 5, 4, 3, 2, 1], "why_not": {}})
    assert drawing.svg == ""
    assert drawing.sentence == "It is drawn once its readings are there."


def test_the_reason_of_the_checks_is_said():
    drawing = drawings.stud_window({"strings": [6], "why_not": {"window": "Read both studs first."}})
    assert drawing.sentence == "Read both studs first."


@pytest.mark.parametrize("part", ["side", "window", "neck", "arch", "saddles", "octave"])
def test_a_string_without_a_reading_is_left_out_and_breaks_nothing(part):
    numbers = dict(NUMBERS)
    whole = numbers[part]
    if part in ("side", "arch", "saddles"):
        numbers[part] = {key: [None, *value[1:]] if isinstance(value, list) and len(value) == 6 else value
                         for key, value in whole.items()}  # fmt: skip
    elif part == "neck":
        numbers[part] = {**whole, "nut": {}, "crest": {}, "heights": {}}
    else:
        numbers[part] = {}
    for name in EVERY:
        assert drawings.drawing_of(name, numbers).sentence


def test_lengths_follow_the_workshops_unit():
    assert " in " in drawings.bridge_side(NUMBERS, said=Said("in")).sentence


def test_a_name_that_is_no_drawing_gives_none():
    assert drawings.drawing_of("compare", NUMBERS) is None


def test_the_years_are_said_and_drawn():
    drawing = drawings.history_chart(
        name="relief", label="relief", points=[(date(2025, 3, 1), 0.2), (date(2026, 3, 1), 0.3)], low=0.1, high=0.3
    )
    assert drawing.sentence == "Relief as left: 0.20 mm in 2025; 0.30 mm in 2026."
    assert str(drawing.svg).count("<circle") == 2


def test_text_is_escaped():
    drawing = drawings.history_chart(name="x", label="<b>relief", points=[(date(2025, 3, 1), 0.2)])
    assert "<b>" not in drawing.svg


def test_what_was_not_read_is_not_said_to_stand_anywhere():
    few = evaluate_sheet(build.sheet({"height_12:6": 1.9, "height_12:5": 1.8})).numbers
    drawing = drawings.neck_heights(few)
    assert drawing.sentence == (
        "The neck's relief is not read yet: it is drawn straight; string 6 stands 1.90 mm over fret 12; "
        "string 1 is not read yet and is drawn after the others."
    )
    assert "relief 0.00" not in str(drawing.svg)
    root = ElementTree.fromstring(str(drawing.svg))
    strings = {one.get("data-string"): one.get("stroke-dasharray") for one in root.iter(f"{SVG}line")}
    assert strings["6"] is None
    assert strings["1"], "dashed"
    read = evaluate_sheet(build.sheet({"relief": 0.2, "height_12:6": 1.9, "height_12:1": 1.4})).numbers
    assert drawings.neck_heights(read).sentence == (
        "The neck's relief is 0.20 mm; string 6 stands 1.90 mm over fret 12; string 1 stands 1.40 mm over fret 12."
    )
