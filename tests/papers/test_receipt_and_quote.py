"""The receipt of what was taken in, and the quote."""

import io
from datetime import date

import pypdf
import pytest
from django.core.files.base import ContentFile
from PIL import Image

from shop.handover import mails, papers, services
from shop.handover.marks import marks_of, outlines_of
from shop.handover.models import PaperKind
from shop.orders.models import Agreement, ConditionMark, Photo
from shop.orders.services import NotAllowed
from tests import money_builders
from tests.papers import builders, reading


@pytest.fixture
def workshop(db):
    return builders.shop()


@pytest.fixture
def order(cleo, workshop):
    order = builders.order(
        cleo, 2, complaint="It rattles.", came_with="Hard case, two keys", condition="Played in.",
        promised_on=date(2026, 12, 4), intake_terms="We do only what was agreed.",
    )  # fmt: skip
    ConditionMark.objects.create(order=order, x=0.5, y=0.5, side="back", note="buckle rash")
    return order


def test_the_receipt_says_what_was_taken_in(order, workshop):
    text = reading.text(papers.receipt_pdf([order], workshop))
    for said in (
        f"Receipt {order.number}", "Mara Fell", "Larkrise Two-Post, tobacco burst", "LR-0412", "It rattles.",
        "Hard case, two keys", "Played in.", "1 back, neck, last frets buckle rash", "Fri 4 Dec 2026",
        "We do only what was agreed.", "What you have agreed to", "What is to be done",
        "Total, VAT included €53.38",
    ):  # fmt: skip
        assert said in text
    assert "your answer" not in text


def test_what_is_only_proposed_is_not_called_agreed(cleo, order, workshop):
    money_builders.line(order, "New nut, bone", "75.00", agreement=Agreement.PROPOSED)
    text = reading.text(papers.receipt_pdf([order], workshop))
    assert text.index("What you have agreed to") < text.index("Setup") < text.index("What waits for your answer")
    assert text.index("What waits for your answer") < text.index("New nut, bone")
    assert "Agreed €53.38 If all of it is done, VAT included €128.38" in " ".join(text.split())
    order.lines.exclude(text="New nut, bone").delete()
    text = reading.text(papers.receipt_pdf([order], workshop))
    assert "What you have agreed to" not in text
    assert "If all of it is done, VAT included €75.00" in text


def test_an_instrument_of_several_does_not_begin_at_the_foot_of_a_page(cleo, workshop):
    """Its name, what it is and what was said of it stay together, wherever the page ends."""
    for lines in range(1, 12):
        visit = [
            money_builders.order(cleo, lines=[("Setup", "10.00")] * lines, complaint="First."),
            money_builders.order(cleo, lines=[("Setup", "10.00")], complaint="Second."),
        ]
        pages = reading.pages(papers.receipt_pdf(visit, workshop))
        begins = f"{visit[1].number}: "
        assert all(("Second." in page) == (begins in page) for page in pages), lines


def test_the_receipt_of_next_to_nothing_is_whole(cleo, workshop):
    order = money_builders.order(cleo, lines=[], complaint="Please look.")
    text = reading.text(papers.receipt_pdf([order], workshop))
    assert "Nothing but the instrument." in text
    assert "No marks were noted." in text
    assert "What is to be done" not in text


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_nothing_stands_beyond_the_margins(cleo, size):
    workshop = builders.shop(paper=size)
    order = builders.order(
        cleo, 40, long=True, complaint=f"Story {builders.UNBROKEN} " * 5, came_with=builders.UNBROKEN * 3,
        condition="Worn. " * 200, intake_terms="Terms and conditions apply. " * 60,
    )  # fmt: skip
    for number in range(30):
        ConditionMark.objects.create(order=order, x=0.5, y=0.5, side="front", note=f"mark {number} " + "m" * 180)
    assert reading.beyond_the_margins(papers.receipt_pdf([order], workshop)) == []


def test_the_quote_is_over_what_is_proposed(cleo, order, workshop):
    money_builders.line(order, "New nut, bone", "75.00", agreement=Agreement.PROPOSED)
    text = reading.text(papers.quote_pdf(order, workshop))
    assert f"Quote {order.number}" in text
    assert "Total €75.00" in text
    assert "This is on top of the €53.38 agreed already." in text


def test_the_quote_is_mailed_with_its_lines_and_kept(cleo, order, workshop):
    money_builders.line(order, "New nut, bone", "75.00", "2", agreement=Agreement.PROPOSED)
    mail = services.mail_quote(order, by=cleo)
    assert "- 2 × New nut, bone: €150.00" in mail.text
    assert "In all: €150.00, VAT included." in mail.text
    assert mail.papers.get().kind == PaperKind.QUOTE


def test_prices_without_tax_are_quoted_with_it(cleo):
    workshop = builders.shop(prices_include_tax=False)
    order = builders.order(cleo, 0)
    money_builders.line(order, "New nut", "100.00", agreement=Agreement.PROPOSED)
    assert "In all: €120.00, VAT included." in services.mail_quote(order, by=cleo).text
    assert "Total €120.00" in reading.text(papers.quote_pdf(order, workshop))


def test_nothing_proposed_is_nothing_to_quote(cleo, order):
    with pytest.raises(NotAllowed, match="Nothing is proposed"):
        services.mail_quote(order, by=cleo)


def test_whoever_is_not_mailed_has_the_quote_kept(cleo, order):
    order.customer.email = ""
    order.customer.save(update_fields=["email"])
    money_builders.line(order, "New nut", "75.00", agreement=Agreement.PROPOSED)
    assert services.mail_quote(order, by=cleo) is None
    assert order.papers.filter(kind=PaperKind.QUOTE).count() == 1
    assert mails.why_not(order.customer) == "Mara Fell has no e-mail address."


def picture(colour, size=(60, 40)):
    """A small JPEG of one colour."""
    kept = io.BytesIO()
    Image.new("RGB", size, colour).save(kept, "JPEG")
    return ContentFile(kept.getvalue(), name="picture.jpg")


def images(content):
    return sum(len(page.images) for page in pypdf.PdfReader(io.BytesIO(content)).pages)


def test_what_was_signed_by_finger_stands_on_the_receipt(order, workshop):
    before = images(papers.receipt_pdf([order], workshop))
    order.signature.save("signature.png", picture("black"), save=True)
    assert images(papers.receipt_pdf([order], workshop)) == before + 1


def test_marks_are_drawn_on_their_side_of_the_outline(order):
    (one,) = outlines_of(order, marks_of(order))
    assert one.says == "Back with marks: 1, neck, last frets: buckle rash"


def test_photographs_before_and_after_stand_on_the_handover_sheet(cleo, order, workshop):
    before = images(papers.handover_pdf(order, workshop))
    for step in ("", "", "", "height", "left"):
        Photo.objects.create(order=order, step=step, by=cleo, file=picture("brown", (1600, 1200)))
    content = papers.handover_pdf(order, workshop)
    assert images(content) == before + 4
    assert len(content) < 200_000
