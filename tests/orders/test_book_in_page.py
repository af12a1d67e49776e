"""The book-in form: what is sent is kept, what is wrong is said, what was typed stays."""

from base64 import b64encode

import pytest

from shop.orders.models import WorkOrder
from shop.orders.states import State
from shop.people.models import Customer
from tests import factories, pictures
from tests.counter_builders import form_data, known_data, price

pytestmark = pytest.mark.django_db
BOOK_IN = "/counter/book-in/"
SIGNATURE = "data:image/png;base64," + b64encode(pictures.encoded(pictures.image(40, 20), "PNG")).decode()


def test_a_new_customer_with_a_new_instrument(as_person, cleo):
    answer = as_person(cleo).post(BOOK_IN, form_data())
    order = WorkOrder.objects.get()
    assert answer["Location"] == f"/counter/booked/{order.number}/"
    assert (order.customer.name, order.instrument.serial) == ("Jonas Reed", "JR-77")


def test_somebody_known(as_person, cleo):
    one = factories.instrument()
    as_person(cleo).post(BOOK_IN, known_data(one))
    order = WorkOrder.objects.get()
    assert (order.instrument, order.customer) == (one, one.customer)
    assert Customer.objects.count() == 1


def test_everything_that_can_be_said(as_person, cleo):
    setup, strings = price("Setup", "85.00"), price("Strings", "9.50", minutes=0, kind="strings")
    as_person(cleo).post(
        BOOK_IN,
        form_data(
            **{
                "job-items": [str(setup.pk), str(strings.pk)], "job-agreed": "on", "job-came_with": "hard case",
                "job-condition": "worn", "job-rack_slot": "B2", "job-bench_note": "flatwound?", "job-priority": "1",
                "lines-0-text": "Find the rattle", "lines-0-price": "12,50", "lines-0-minutes": "20",
                "marks-TOTAL_FORMS": "3", "marks-0-x": "0.7", "marks-0-y": "0.8", "marks-0-note": "dent",
                "marks-2-side": "back", "marks-2-place": "end", "marks-2-note": "crack",
            }
        ),
    )  # fmt: skip
    order = WorkOrder.objects.get()
    assert order.state == State.AGREED
    assert [(line.text, str(line.price), line.minutes) for line in order.lines.all()] == [
        ("Setup", "85.00", 90), ("Strings", "9.50", 0), ("Find the rattle", "12.50", 20),
    ]  # fmt: skip
    assert [(mark.side, mark.x, mark.y, mark.note) for mark in order.marks.all()] == [
        ("front", 0.7, 0.8, "dent"), ("back", 0.5, 0.945, "crack"),
    ]  # fmt: skip
    assert (order.came_with, order.rack_slot, order.bench_note, order.priority) == ("hard case", "B2", "flatwound?", 1)


WRONG = {
    "no complaint": ("job", "complaint", {"job-complaint": " "}),
    "no name": ("who", "name", {"customer-name": ""}),
    "nobody could be told": ("who", "phone", {"customer-phone": "", "customer-email": ""}),
    "no address": ("who", "email", {"customer-email": "jonas"}),
    "too many strings": ("what", "string_count", {"instrument-string_count": "40"}),
    "a promise in the past": ("job", "promised_on", {"job-promised_on": "2020-01-01"}),
    "a promise in another century": ("job", "promised_on", {"job-promised_on": "2126-01-01"}),
    "no day of any calendar": ("job", "promised_on", {"job-promised_on": "2027-02-30"}),
    "a date that is not said": ("job", "promised_on", {"job-priority": "2"}),
    "no draft": ("job", "draft_key", {"job-draft_key": "mine"}),
    "an item that is not sold": ("job", "items", {"job-items": "999"}),
    "an item that can be none": ("job", "items", {"job-items": "9" * 30}),
    "a signature without terms": ("terms", "read", {"terms-signature": SIGNATURE}),
    "a signature that is none": ("terms", "signature", {"terms-signature": "data:image/png;base64,AAAA"}),
    "too long": ("job", "complaint", {"job-complaint": "x" * 3001}),
}  # fmt: skip


def part_of(form, name):
    """One of the forms of a page with one instrument."""
    return getattr(form if name in ("who", "terms") else form.first, name)


@pytest.mark.parametrize(("part", "field", "typed"), WRONG.values(), ids=WRONG)
def test_what_is_wrong_is_said_and_nothing_is_lost(as_person, cleo, part, field, typed):
    answer = as_person(cleo).post(BOOK_IN, form_data(**{"job-condition": "dull finish"}) | typed)
    assert answer.status_code == 422
    errors = part_of(answer.context["form"], part).errors[field]
    assert all(error.endswith(".") for error in errors)
    assert "dull finish" in answer.content.decode()
    assert "Nothing you typed is lost" in answer.content.decode()
    assert not WorkOrder.objects.exists()
    assert not Customer.objects.exists()


ROWS = {
    "a mark that nobody described": ({"marks-0-x": "0.5", "marks-0-y": "0.5"}, "Say what the mark is"),
    "a mark that is nowhere": ({"marks-0-note": "dent"}, "Tap the drawing"),
    "a mark off the drawing": ({"marks-0-x": "1.5", "marks-0-y": "0.5", "marks-0-note": "dent"}, "less than or equal"),
    "a price for nothing": ({"lines-0-price": "5"}, "Say what the price is for"),
    "work without a price": ({"lines-0-text": "Solder"}, "Write its price"),
    "a price that is none": ({"lines-0-text": "Solder", "lines-0-price": "cheap"}, "Write an amount"),
    "too many marks": ({"marks-TOTAL_FORMS": "500"}, "Please submit at most"),
    "no rows at all": ({"lines-TOTAL_FORMS": ""}, "ManagementForm"),
}


@pytest.mark.parametrize(("typed", "says"), ROWS.values(), ids=ROWS)
def test_a_row_that_is_wrong(as_person, cleo, typed, says):
    answer = as_person(cleo).post(BOOK_IN, form_data() | typed)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert not WorkOrder.objects.exists()


def test_the_refused_form_keeps_its_draft_so_that_it_books_in_once(as_person, cleo):
    client, data = as_person(cleo), form_data()
    refused = client.post(BOOK_IN, data | {"job-complaint": ""})
    assert str(refused.context["form"].first.job["draft_key"].value()) == data["job-draft_key"]


def test_somebody_like_it_on_file_is_named(as_person, cleo):
    factories.customer(name="Jonas A. Reed", phone="+44 1632 960555")
    answer = as_person(cleo).post(BOOK_IN, form_data() | {"job-complaint": ""})
    assert "On file with the same telephone number" in answer.content.decode()


@pytest.mark.parametrize("who", ["customer", "instrument"])
def test_somebody_who_is_not_there(as_person, cleo, who):
    assert as_person(cleo).post(BOOK_IN, form_data() | {who: "999"}).status_code == 404


def test_get_is_refused(as_person, cleo):
    answer = as_person(cleo).get(f"{BOOK_IN}?instrument=7")
    assert (answer.status_code, answer["Location"]) == (302, "/counter/?instrument=7")


def test_the_bench_may_not(as_person, ben):
    assert as_person(ben).post(BOOK_IN, form_data()).status_code == 403
    assert not WorkOrder.objects.exists()
