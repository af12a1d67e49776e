"""The tag on paper. Its code is read back by another library, zxing-cpp."""

import io
from datetime import date

import pdfplumber
import pypdfium2
import pytest
import zxingcpp

from shop.orders import services, tags
from tests import factories
from tests.counter_builders import booked

pytestmark = pytest.mark.django_db
MM = 72 / 25.4


@pytest.fixture
def order(cleo):
    order = booked(cleo, promised_on=date(2030, 1, 7), came_with="hard case, strap")
    services.put_on_rack(order, "B2", by=cleo)
    return order


def printed(client, order, size):
    answer = client.get(f"/orders/{order.number}/tag.pdf", {"size": size})
    assert answer["Content-Type"] == "application/pdf"
    return answer.content


@pytest.mark.parametrize(("size", "width", "height"), [("label", 62, 100), ("a6", 105, 148)])
def test_it_says_what_it_should_on_one_page_of_its_size(as_person, cleo, order, size, width, height):
    with pdfplumber.open(io.BytesIO(printed(as_person(cleo), order, size))) as made:
        (page,) = made.pages
        assert (float(page.width) / MM, float(page.height) / MM) == pytest.approx((width, height), abs=0.1)
        text = page.extract_text()
        largest = max(page.chars, key=lambda letter: letter["size"])
    for said in (order.number, "Mara Fell", "Larkrise Two-Post", "Mon 7 Jan 2030", "B2", "hard case, strap"):
        assert said in text
    assert largest["text"] in order.number


@pytest.mark.parametrize("size", tags.SIZES)
def test_its_code_opens_the_order(as_person, cleo, order, size, settings):
    settings.PUBLIC_ADDRESS = "https://shop.example.com"
    page = pypdfium2.PdfDocument(printed(as_person(cleo), order, size))[0]
    (code,) = zxingcpp.read_barcodes(page.render(scale=3).to_pil())
    assert code.text == f"https://shop.example.com/t/{order.number}/"


@pytest.mark.parametrize("size", tags.SIZES)
def test_however_much_there_is_to_say_it_stays_one_page(cleo, size):
    order = booked(
        cleo, customer=factories.customer(name="W" * 120),
        came_with="M " * 490, complaint="W " * 1400, promised_on=date(2030, 1, 7), priority=2, rack_slot="M" * 40,
    )  # fmt: skip
    order.instrument.maker, order.instrument.model_name, order.instrument.serial = "M" * 80, "W" * 80, "S" * 60
    made = pypdfium2.PdfDocument(tags.render([order], factories.workshop(name="W" * 120), size=size))
    assert len(made) == 1


@pytest.mark.parametrize("size", tags.SIZES)
def test_markup_is_only_text(cleo, size):
    order = booked(
        cleo, came_with="<img src='file:///etc/passwd'><script>", customer=factories.customer(name="<b>Mara</b>")
    )
    with pdfplumber.open(io.BytesIO(tags.render([order], factories.workshop(), size=size))) as made:
        assert "<b>Mara</b>" in made.pages[0].extract_text()


def test_another_size_is_not_found(as_person, cleo, order):
    assert as_person(cleo).get(f"/orders/{order.number}/tag.pdf?size=a0").status_code == 404


def test_no_such_order(as_person, cleo):
    assert as_person(cleo).get("/orders/26-9999/tag.pdf").status_code == 404


def test_post_is_refused(as_person, cleo, order):
    assert as_person(cleo).post(f"/orders/{order.number}/tag.pdf").status_code == 405
