"""The handover sheet: how it came, how it left, and what to mind, for somebody who plays."""

import io
from datetime import date

import pikepdf
import pytest

from shop.handover import papers
from shop.handover.sheet import sheet_of
from shop.worksheets import services as worksheets
from shop.worksheets.models import Acceptance
from tests import handover_builders as build
from tests import money_builders
from tests import worksheet_builders as bench
from tests.papers import builders, reading


@pytest.fixture
def workshop(db):
    return builders.shop()


@pytest.fixture
def order(cleo, ben, workshop):
    lines = [("Full setup", "85.00"), ("String set, nickel wound", "9.50", "2")]
    made = build.checked(
        cleo, ben, lines=lines, complaint="It buzzes on the low string.", watch="The first fret shows wear.",
        next_check_on=date(2027, 6, 1),
    )  # fmt: skip
    made.lines.filter(text__startswith="String").update(kind="strings")
    return made


def text_of(order, workshop):
    return reading.text(papers.handover_pdf(order, workshop))


def test_it_says_what_was_asked_done_and_fitted(order, workshop):
    text = text_of(order, workshop)
    for said in (
        f"Handover sheet {order.number}", "It buzzes on the low string.", "Full setup",
        "Fitted: 2 × String set, nickel wound", "The first fret shows wear.", "Tue 1 Jun 2027", "Larkrise Two-Post",
    ):  # fmt: skip
        assert said in text


def test_each_reading_shows_how_it_came_and_left_against_its_target(order, workshop):
    text = text_of(order, workshop)
    assert "Relief 0.45 mm → 0.20 mm 0.10 to 0.30 mm" in text
    assert "String 6, E 2.60 mm → 1.85 mm 1.60 to 2.10 mm" in text
    assert "String 6, E – → 0.15 mm 0.05 to 0.25 mm" in text  # the nut's gap was not read as received
    assert "String 6, E +9.0 cents → +0.3 cents −1.5 to +1.5 cents" in text


def test_each_reading_is_explained_to_a_player(order, workshop):
    text = " ".join(text_of(order, workshop).split())
    for heading in ("The neck’s bow", "The nut", "String height", "The bridge", "The tailpiece", "Intonation"):
        assert heading in text
    assert "none at all makes the first frets buzz" in text


def test_every_range_is_drawn_with_its_words_for_screen_readers(order, workshop):
    content = papers.handover_pdf(order, workshop)
    with pikepdf.open(io.BytesIO(content)) as pdf:
        words = [str(one.Alt) for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/Alt" in one]
    drawn = sheet_of(order, workshop)
    bars = [reading.bar for group in drawn.groups for reading in group.readings if reading.bar]
    assert len(bars) == 19  # relief, and nut, height and octave of six strings
    assert "As received 0.45 mm, as left 0.20 mm, target between 0.10 and 0.30 mm." in words
    assert any("over its crest" in one for one in words)


def test_lengths_are_said_in_the_workshops_unit(order):
    text = text_of(order, builders.shop(length_unit="in"))
    assert "Relief 0.018 in → 0.008 in" in text


def test_what_was_left_on_purpose_stands_with_name_and_reason(cleo, ben, workshop):
    order = money_builders.order(cleo, state="on_bench")
    sheet = bench.finished(order, ben, **{"relief": 0.38, "left.relief": 0.38})
    reason = "The player likes it that way."
    Acceptance.objects.create(worksheet=sheet, finding="relief", value=0.38, reason=reason, at=sheet.started_at, by=ben)
    worksheets.sign_off(sheet, by=ben)
    text = " ".join(text_of(order, workshop).split())
    assert "Left as it is, on purpose" in text
    assert "The player likes it that way. (Ben)" in text
    assert "0.10 to 0.30 mm, outside" in text


def test_cautions_fit_the_bridge(cleo, ben, order, workshop):
    assert "Bridge and tailpiece are held by string pull alone" in text_of(order, workshop)
    order.instrument.family = "pinned"
    assert "string pull alone" not in text_of(order, workshop)


def test_without_a_worksheet_it_is_a_sheet_all_the_same(cleo, workshop):
    order = money_builders.order(cleo, lines=[("Strap button moved", "15.00")], complaint="")
    text = text_of(order, workshop)
    assert "Strap button moved" in text
    assert "How it came" not in text


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_nothing_stands_beyond_the_margins(cleo, ben, size):
    workshop = builders.shop(paper=size)
    lines = [(builders.UNBROKEN[:180], "10.00"), *[(f"Work number {n} of a very long list", "1.00") for n in range(40)]]
    order = build.checked(
        cleo, ben, lines=lines, complaint=f"Long story. {builders.UNBROKEN} " * 8, watch="Watch it. " * 90,
        instrument=builders.order(cleo, 0, long=True).instrument,
    )  # fmt: skip
    assert reading.beyond_the_margins(papers.handover_pdf(order, workshop)) == []


def test_an_ordinary_setup_fits_on_two_pages(order, workshop):
    assert len(reading.pages(papers.handover_pdf(order, workshop))) == 2
    assert len(reading.pages(papers.handover_pdf(order, builders.shop(paper="Letter")))) == 2
