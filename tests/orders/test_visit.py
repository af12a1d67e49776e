"""Several instruments in one visit: one book-in, one signature; a number, a tag and a promise for each."""

import io
import uuid

import pdfplumber
import pytest

from shop.handover.making import receipt_paper
from shop.handover.models import OutgoingMail
from shop.orders import services
from shop.orders.forms.terms import accepted_text, names_key, terms_key
from shop.orders.models import Event, WorkOrder
from shop.people.models import Customer
from tests import factories
from tests.counter_builders import booked, booked_together, form_data, known_data, price
from tests.orders.test_signature import SIGNED

pytestmark = pytest.mark.django_db
BOOK_IN = "/counter/book-in/"
TERMS = "We ask before we do more."
NAMES = ["Larkrise, serial JR-77", "Tinhollow Drover, serial TH-9"]


def two(**typed):
    """What a browser sends for a new customer with two new instruments."""
    second = {
        "piece": ["1", "2"], "2-job-draft_key": str(uuid.uuid4()), "2-job-complaint": "Rattles.", "2-job-priority": "0",
        "2-instrument-kind": "steel", "2-instrument-family": "pinned", "2-instrument-string_count": "6",
        "2-instrument-hand": "right", "2-instrument-maker": "Tinhollow", "2-instrument-model_name": "Drover",
        "2-instrument-serial": "TH-9", "2-job-came_with": "soft case", "2-job-promised_on": "",
        "2-lines-TOTAL_FORMS": "1", "2-lines-INITIAL_FORMS": "0", "2-lines-0-kind": "work", "2-lines-0-quantity": "1",
        "2-marks-TOTAL_FORMS": "1", "2-marks-INITIAL_FORMS": "0", "2-marks-0-side": "back", "2-marks-0-place": "end",
        "2-marks-0-note": "crack",
    }  # fmt: skip
    return form_data() | second | typed


def signed(**typed):
    said = {"terms-read": "on", "terms-key": terms_key(TERMS), "terms-named": names_key(NAMES)}
    return two(**said, **{"terms-signature": SIGNED}) | typed


def test_two_instruments_of_somebody_new(as_person, cleo):
    answer = as_person(cleo).post(BOOK_IN, two())
    first, second = WorkOrder.objects.order_by("pk")
    assert answer["Location"] == f"/counter/booked/{first.number}/"
    assert Customer.objects.count() == 1
    assert first.visit == second.visit
    assert [str(one.instrument) for one in (first, second)] == ["Larkrise", "Tinhollow Drover"]
    assert (second.complaint, second.came_with, second.marks.get().note) == ("Rattles.", "soft case", "crack")
    assert not first.marks.exists()


def test_one_on_file_and_one_more_on_file(as_person, cleo):
    one = factories.instrument()
    other = factories.instrument(one.customer, serial="LR-8")
    data = {name: value for name, value in two().items() if "instrument-" not in name and "customer-" not in name}
    as_person(cleo).post(BOOK_IN, data | {"customer": one.customer_id, "instrument": one.pk, "2-instrument": other.pk})
    assert [order.instrument for order in WorkOrder.objects.order_by("pk")] == [one, other]


def test_the_same_instrument_twice_is_asked_about(as_person, cleo):
    one = factories.instrument()
    data = {name: value for name, value in two().items() if "instrument-" not in name}
    answer = as_person(cleo).post(BOOK_IN, known_data(one) | data | {"instrument": one.pk, "2-instrument": one.pk,
                                                                     "customer": one.customer_id})  # fmt: skip
    assert answer.status_code == 422
    assert "is in this visit already" in answer.content.decode()
    assert not WorkOrder.objects.exists()


def test_what_is_wrong_with_the_second_keeps_both_out_and_both_typed(as_person, cleo):
    answer = as_person(cleo).post(BOOK_IN, two(**{"2-job-complaint": "", "2-job-came_with": "a drum"}))
    text = answer.content.decode()
    assert answer.status_code == 422
    assert "complaint" in answer.context["form"].pieces[1].job.errors
    assert "a drum" in text
    assert 'href="#id_2-job-complaint"' in text
    assert not WorkOrder.objects.exists()
    assert not Customer.objects.exists()


def test_one_signature_stands_under_a_text_that_names_both(as_person, cleo):
    factories.workshop(intake_terms=TERMS)
    as_person(cleo).post(BOOK_IN, signed())
    for order in WorkOrder.objects.all():
        assert order.intake_terms == accepted_text(TERMS, NAMES)
        assert order.intake_terms.endswith(TERMS)
        assert all(name in order.intake_terms for name in NAMES)
        assert order.signature


@pytest.mark.parametrize("changed", [{"2-instrument-serial": "TH-8"}, {"piece": ["1"]}], ids=["renamed", "taken off"])
def test_a_list_that_changed_after_it_was_read_is_read_again(as_person, cleo, changed):
    factories.workshop(intake_terms=TERMS)
    answer = as_person(cleo).post(BOOK_IN, signed(**changed))
    if "piece" in changed:  # one alone is named by its own paper
        assert WorkOrder.objects.get().intake_terms == TERMS
    else:
        assert "read" in answer.context["form"].terms.errors
        assert not WorkOrder.objects.exists()


def test_sent_twice_it_is_one_visit(as_person, cleo):
    client, data = as_person(cleo), two()
    assert client.post(BOOK_IN, data)["Location"] == client.post(BOOK_IN, data)["Location"]
    assert WorkOrder.objects.count() == 2


def test_an_error_in_the_second_takes_the_first_back(cleo, monkeypatch):
    def fails(*_args, **_more):
        raise RuntimeError("no")

    monkeypatch.setattr("shop.orders.services.booking.attach_drafts", fails)
    with pytest.raises(RuntimeError):
        booked_together(cleo)
    assert not WorkOrder.objects.exists()
    monkeypatch.undo()
    assert booked_together(cleo)[0].number.endswith("-0001")


def test_the_page_after_it_shows_every_number_and_prints_all_tags(as_person, cleo):
    orders, client = booked_together(cleo, 3), as_person(cleo)
    text = client.get(f"/counter/booked/{orders[1].number}/").content.decode()
    assert "Print the 3 tags" in text
    paper = client.get(f"/orders/{orders[0].number}/tags.pdf").content
    with pdfplumber.open(io.BytesIO(paper)) as made:
        pages = [page.extract_text() for page in made.pages]
    assert [order.number in page for order, page in zip(orders, pages, strict=True)] == [True] * 3


def test_an_order_says_what_came_with_it(as_person, cleo):
    first, second = booked_together(cleo)
    alone = booked(cleo, customer=first.customer)
    client = as_person(cleo)
    assert f"/orders/{second.number}/" in client.get(f"/orders/{first.number}/").content.decode()
    assert "came together with" not in client.get(f"/orders/{alone.number}/").content.decode()


def test_at_collection_the_others_are_named(as_person, cleo):
    first, second, third = booked_together(cleo, 3)
    WorkOrder.objects.filter(pk__in=[first.pk, second.pk]).update(state="ready")
    text = as_person(cleo).get(f"/orders/{first.number}/collect/").content.decode()
    assert "Two more of this customer’s are here" in text
    assert f"/orders/{second.number}/collect/" in text
    assert f"/orders/{third.number}/collect/" not in text
    assert text.count("Hand over too") == 1


def test_one_receipt_and_one_mail_for_all(cleo, as_person):
    customer = factories.customer()
    bookings = [
        services.Booking(customer, factories.instrument(customer, serial=serial), complaint, uuid.uuid4(),
                         intake_terms=TERMS)
        for serial, complaint in (("LR-1", "Buzzes."), ("LR-2", "Rattles."))
    ]  # fmt: skip
    first, second = services.book_in_together(bookings, by=cleo)
    mail = OutgoingMail.objects.get()
    assert f"{first.number} and {second.number}" in mail.subject
    for said in (first.number, second.number, "LR-1", "LR-2", "Buzzes.", "Rattles.", TERMS):
        assert said in mail.text
        assert said in mail.html
    assert mail.text.count("Where it stands, and its papers: http") == 2
    assert Event.objects.filter(what="mailed").count() == 2
    paper = receipt_paper(second)
    assert paper == receipt_paper(first)
    with pdfplumber.open(io.BytesIO(paper.read())) as made:
        text = "\n".join(page.extract_text() for page in made.pages)
    for said in (first.number, second.number, "LR-1", "LR-2", "Buzzes.", "Rattles.", TERMS):
        assert said in text
    assert paper.name in as_person(cleo).get(f"/orders/{second.number}/").content.decode()


def test_the_part_for_one_more(as_person, cleo):
    one, client = factories.instrument(), as_person(cleo)
    text = client.get("/counter/another/2/", {"instrument": one.pk, "customer": one.customer_id}).content.decode()
    assert 'name="2-job-complaint"' in text
    assert f'name="2-instrument" value="{one.pk}"' in text
    assert client.get("/counter/another/7/").status_code == 404
    assert client.get("/counter/another/1/").status_code == 404
    assert client.get("/counter/another/2/", {"instrument": "999"}).status_code == 404


def test_each_has_its_own_promise_one_after_the_other(as_person, cleo):
    long = price("Refret", minutes=360)
    answer = as_person(cleo).post("/counter/reckon/", two(**{"job-items": [long.pk], "2-job-items": [long.pk]}))
    first, second = answer.context["reckoned"].pieces
    assert first.proposal.day < second.proposal.day
    assert f'data-proposed="{second.proposal.day:%Y-%m-%d}" data-of="2"' in answer.content.decode()


def test_an_instrument_that_is_here_already_says_so(as_person, cleo):
    order = booked(cleo)
    text = as_person(cleo).get("/counter/", {"instrument": order.instrument_id}).content.decode()
    assert "It is here already" in text
    assert order.number in text
