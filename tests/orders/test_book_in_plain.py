"""Booking in without script: the form's own buttons bring it back with one more of something, and as it was typed."""

import pytest
from lxml import html

from shop.orders.models import Photo, WorkOrder
from shop.staff.models import Workshop
from tests import factories
from tests.counter_builders import form_data, known_data, price
from tests.orders.test_visit import TERMS, signed, two
from tests.pictures import photo, upload

pytestmark = pytest.mark.django_db
BOOK_IN = "/counter/book-in/"


@pytest.fixture
def client(as_person, cleo):
    return as_person(cleo)


def pieces(answer):
    return answer.context["form"].pieces


def test_one_more_instrument_comes_back_with_all_that_is_typed(client):
    typed = form_data() | {"job-complaint": "", "job-came_with": "a drum", "marks-0-note": "dent", "another": ""}
    answer = client.post(BOOK_IN, typed)
    assert answer.status_code == 200
    assert [piece.place for piece in pieces(answer)] == [1, 2]
    for kept in ("Jonas Reed", "a drum", "dent", typed["job-draft_key"], 'id="piece-2"'):
        assert kept in answer.text
    assert "form-problem" not in answer.text.replace('form-problem" data-another-failed', "").replace(
        'form-problem m-0" data-photos-late', ""
    )
    assert "Not booked in yet" not in answer.text
    assert not any(part.is_bound for part in pieces(answer)[1].parts)
    assert 'name="2-marks-TOTAL_FORMS" value="1"' in answer.text
    assert not WorkOrder.objects.exists()


def test_the_next_one_may_be_on_file(client):
    one = factories.instrument()
    other = factories.instrument(one.customer, serial="LR-8")
    stranger = factories.instrument(factories.customer(name="Somebody Else"), serial="SE-1")
    shown = client.get(f"/counter/?instrument={one.pk}")
    assert f'name="another" value="{other.pk}"' in shown.text
    answer = client.post(BOOK_IN, known_data(one) | {"another": other.pk})
    assert [piece.instrument for piece in pieces(answer)] == [one, other]
    assert f'name="another" value="{other.pk}"' not in answer.text
    assert f'value="{stranger.pk}"' not in answer.text
    assert client.post(BOOK_IN, known_data(one) | {"another": "999999"}).status_code == 404


def test_a_seventh_is_not_offered(client):
    data = two() | {"piece": ["1", "2", "3", "4", "5", "6"]}
    answer = client.post(BOOK_IN, data | {"another": ""})
    assert [piece.place for piece in pieces(answer)] == [1, 2, 3, 4, 5, 6]
    answer = client.post(BOOK_IN, data | {"piece": ["1", "2", "4", "5", "6"], "another": ""})
    assert sorted(piece.place for piece in pieces(answer)) == [1, 2, 3, 4, 5, 6]


def test_one_is_taken_off_and_the_first_stays(client):
    answer = client.post(BOOK_IN, two(off="2"))
    assert [piece.place for piece in pieces(answer)] == [1]
    assert "Jonas Reed" in answer.text
    assert len(pieces(client.post(BOOK_IN, two(off="1")))) == 2


def test_what_stands_in_the_way_names_its_instrument(client):
    answer = client.post(BOOK_IN, two() | {"2-instrument-maker": "Tolland", "2-job-complaint": ""})
    assert answer.status_code == 422
    assert answer.text.count("Not booked in yet") == 1
    said = html.fromstring(answer.text).xpath("//*[contains(@class, 'error-summary')]//li")
    assert [" ".join(one.text_content().split()) for one in said] == [
        f"{pieces(answer)[1].named} · What the customer says: This field is required."
    ]
    assert "Tolland" in said[0].text_content()
    alone = client.post(BOOK_IN, form_data() | {"job-complaint": ""})
    assert "<li><a" in alone.text, "of a single one it goes without saying"


def test_terms_hold_for_the_instruments_that_were_named(client):
    Workshop.objects.update(intake_terms=TERMS)
    for way in ({"another": ""}, {"off": "2"}):
        terms = client.post(BOOK_IN, signed(**way)).context["form"].terms
        assert not terms["read"].value()
        assert not terms["signature"].value()
    assert client.post(BOOK_IN, signed(more="marks")).context["form"].terms["read"].value()


def test_one_more_row_of_marks_or_lines(client):
    answer = client.post(BOOK_IN, two(more="2-marks"))
    assert [len(piece.marks.forms) for piece in pieces(answer)] == [1, 2]
    assert [len(piece.lines.forms) for piece in pieces(client.post(BOOK_IN, two(more="lines")))] == [2, 1]
    full = client.post(BOOK_IN, form_data(more="marks", **{"marks-TOTAL_FORMS": "999999"}))
    assert full.status_code == 200
    for nonsense in ("", "-", "job", "marks-0", "x" * 300, "TOTAL_FORMS"):
        assert client.post(BOOK_IN, form_data(more=nonsense)).status_code == 200


def test_lines_are_reckoned_and_stay_ticked(client):
    setup = price()
    answer = client.post(BOOK_IN, form_data(another="") | {"job-items": [setup.pk]})
    assert answer.context["reckoned"].count == 1
    assert answer.text.count(" checked>") == 1


def test_photographs_come_along_whichever_button_is_pressed(client):
    typed = form_data() | {
        "marks-0-place": "end", "marks-0-note": "crack", "marks-0-file": photo(), "job-photos": [photo(), photo()],
        "another": "",
    }  # fmt: skip
    answer = client.post(BOOK_IN, typed)
    (row,) = pieces(answer)[0].marks.forms
    key = str(row.photo_key)
    assert Photo.objects.count() == 3
    assert f"/counter/photos/{key}.jpg" in answer.text
    assert answer.text.count('name="drop-photo"') == 2
    gone = Photo.objects.filter(upload_key=None).first()
    again = {name: value for name, value in typed.items() if name not in ("marks-0-file", "job-photos", "another")}
    again["marks-0-photo"] = key
    answer = client.post(BOOK_IN, again | {"drop-photo": gone.pk})
    assert answer.text.count('name="drop-photo"') == 1
    client.post(BOOK_IN, again)
    order = WorkOrder.objects.get()
    assert order.photos.count() == 2
    assert str(order.marks.get().photo.upload_key) == key


def test_a_mark_books_in_with_its_photograph_at_once(client):
    client.post(BOOK_IN, form_data() | {"marks-0-place": "end", "marks-0-note": "crack", "marks-0-file": photo()})
    order = WorkOrder.objects.get()
    assert order.marks.get().photo.order == order


def test_a_file_that_is_no_picture_is_named_and_nothing_is_lost(client):
    bad = upload(b"%PDF-1.7 no picture", "letter.pdf", "application/pdf")
    answer = client.post(BOOK_IN, form_data(another="") | {"marks-0-note": "crack", "marks-0-file": bad})
    assert answer.status_code == 200
    assert "letter.pdf" in answer.text
    assert "crack" in answer.text
    assert not Photo.objects.exists()


def test_what_is_no_key_of_a_photograph_is_no_error(client):
    assert client.post(BOOK_IN, form_data(another="") | {"marks-0-photo": "nonsense"}).status_code == 200
    assert client.post(BOOK_IN, form_data() | {"drop-photo": "nonsense"}).status_code == 200
    assert client.post(BOOK_IN, form_data() | {"drop-photo": "99"}).status_code == 404
