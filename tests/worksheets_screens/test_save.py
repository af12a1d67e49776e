"""A reading arrives from the page's script."""

import html
import uuid

from shop.worksheets.models import Reading


def what_it_means(client, sheet):
    """The page's next question."""
    return client.get(f"/bench/{sheet.pk}/relief/live/").json()


def test_it_is_stored_and_answered(type_in, ben):
    answer = type_in(ben, raw="0.2", gauge="dial")
    assert answer.status_code == 200
    body = answer.json()
    stored = Reading.objects.get()
    assert (stored.value, stored.by, body["basis"], body["status"]) == (0.2, ben, stored.pk, "saved")
    assert body["fields"] == {
        "bench-relief": {
            "value": "0.2", "basis": stored.pk, "state": "saved", "gauge": "dial", "problem": "", "undo": stored.pk,
        }
    }  # fmt: skip


def test_what_it_means_is_there_at_once(type_in, as_person, ben, sheet):
    type_in(ben, raw="0.2")
    pieces = what_it_means(as_person(ben), sheet)["pieces"]
    assert "in range" in pieces["beside-bench-relief"]
    assert "Relief is 0.20 mm" in pieces["findings"]


def test_the_same_id_again_saves_nothing(type_in, ben):
    same = str(uuid.uuid4())
    first, again = type_in(ben, client_id=same), type_in(ben, client_id=same)
    assert first.json()["basis"] == again.json()["basis"]
    assert Reading.objects.count() == 1


def test_what_cannot_be_read_is_kept_beside_what_would_be_accepted(type_in, as_person, ben, sheet):
    body = type_in(ben, raw="about two").json()
    field = body["fields"]["bench-relief"]
    assert (field["value"], field["state"]) == ("about two", "unreadable")
    assert field["problem"].endswith(".")
    beside = what_it_means(as_person(ben), sheet)["pieces"]["beside-bench-relief"]
    assert field["problem"] in html.unescape(beside)


def test_a_value_typed_elsewhere_meanwhile_is_asked_about(type_in, as_person, ben, ada, sheet):
    type_in(ada, raw="0.3")
    body = type_in(ben, raw="0.1", basis="").json()
    assert (body["status"], body["fields"]["bench-relief"]["state"]) == ("rival", "rival")
    asked = what_it_means(as_person(ben), sheet)["pieces"]["beside-bench-relief"]
    assert "Which one holds?" in asked
    assert "0.3" in asked
    assert "0.1" in asked


def test_a_signed_sheet_takes_nothing(type_in, ben, sheet):
    sheet.signed_at, sheet.signed_by = sheet.started_at, ben
    sheet.save(update_fields=["signed_at", "signed_by"])
    answer = type_in(ben)
    assert answer.status_code == 409
    assert answer.json()["problem"] == "This worksheet is signed off. Reopen it before you change anything."
    assert not Reading.objects.exists()


def test_a_form_that_makes_no_sense_is_422(type_in, ben):
    answer = type_in(ben, client_id="seven")
    assert answer.status_code == 422
    assert answer.json()["problem"].endswith(".")


def test_a_field_the_sheet_does_not_have_is_404(type_in, ben):
    assert type_in(ben, key="no_such").status_code == 404
    assert type_in(ben, step="no-such").status_code == 404
    assert type_in(ben, step="nut", key="nut_gap", string=9).status_code == 404


def test_the_counter_may_look_but_not_write(type_in, cleo):
    assert type_in(cleo).status_code == 403
    assert not Reading.objects.exists()


def test_reading_it_is_405(as_person, ben, sheet):
    assert as_person(ben).get(f"/bench/{sheet.pk}/relief/save/").status_code == 405
