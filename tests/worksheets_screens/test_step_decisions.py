"""Done, left out, open again, remarks, and how the strings go: each by its own address."""

import pytest

from shop.worksheets.models import StepMark
from tests import worksheet_builders as build

JSON = {"Accept": "application/json"}
ACTIONS = ("done", "skip", "open", "note", "stringing", "undo", "choose", "save")


def test_done_marks_the_step_and_leads_to_the_next_open_one(as_person, ben, sheet):
    answer = as_person(ben).post(f"/bench/{sheet.pk}/relief/done/")
    assert answer.url == f"/bench/{sheet.pk}/nut/"
    mark = StepMark.objects.get()
    assert (mark.step, mark.state, mark.by) == ("relief", "done", ben)


def test_the_last_step_done_leads_to_the_sign_off(as_person, ben, sheet):
    build.mark_all(sheet, ben, but=("left",))
    assert as_person(ben).post(f"/bench/{sheet.pk}/left/done/").url == f"/bench/{sheet.pk}/sign/"


def test_a_step_is_left_out_with_a_reason(as_person, ben, sheet):
    as_person(ben).post(f"/bench/{sheet.pk}/electrics/skip/", {"reason": "Acoustic only."})
    assert StepMark.objects.get().reason == "Acoustic only."


def test_without_a_reason_it_is_422_and_nothing_is_marked(as_person, ben, sheet):
    answer = as_person(ben).post(f"/bench/{sheet.pk}/electrics/skip/", {"reason": "  "})
    assert answer.status_code == 422
    assert "Say why this step is left out." in answer.content.decode()
    assert not StepMark.objects.exists()


def test_too_long_a_reason_is_kept_in_its_field(as_person, ben, sheet):
    long = "worn " * 80
    answer = as_person(ben).post(f"/bench/{sheet.pk}/electrics/skip/", {"reason": long})
    assert answer.status_code == 422
    assert long in answer.content.decode()


def test_a_mark_is_taken_back(as_person, ben, sheet):
    build.mark_all(sheet, ben)
    as_person(ben).post(f"/bench/{sheet.pk}/relief/open/")
    assert not sheet.marks.filter(step="relief").exists()


def test_a_remark_is_kept_and_answered_as_a_piece(as_person, ben, sheet):
    answer = as_person(ben).post(f"/bench/{sheet.pk}/relief/note/", {"text": "Rod is stiff <b>"}, headers=JSON)
    assert "Rod is stiff &lt;b&gt;" in answer.json()["pieces"]["notes"]
    assert sheet.notes.get().by == ben


def test_an_empty_remark_is_422_with_a_sentence(as_person, ben, sheet):
    answer = as_person(ben).post(f"/bench/{sheet.pk}/relief/note/", {"text": ""}, headers=JSON)
    assert answer.status_code == 422
    assert answer.json()["problem"] == "Write the remark first."


def test_the_strings_go_over_the_top(as_person, ben, sheet):
    as_person(ben).post(f"/bench/{sheet.pk}/tail/stringing/", {"stringing": "wrapped"})
    sheet.refresh_from_db()
    assert sheet.stringing == "wrapped"


def test_they_go_no_other_way(as_person, ben, sheet):
    assert as_person(ben).post(f"/bench/{sheet.pk}/tail/stringing/", {"stringing": "sideways"}).status_code == 422
    sheet.refresh_from_db()
    assert sheet.stringing == "through"


@pytest.mark.parametrize("action", ACTIONS)
def test_each_is_405_when_read_and_403_for_the_counter(as_person, ben, cleo, sheet, action):
    address = f"/bench/{sheet.pk}/relief/{action}/"
    assert as_person(ben).get(address).status_code == 405
    assert as_person(cleo).post(address).status_code == 403


@pytest.mark.parametrize("action", ACTIONS)
def test_each_is_404_for_a_step_or_sheet_that_is_not_there(as_person, ben, sheet, action):
    client = as_person(ben)
    assert client.post(f"/bench/{sheet.pk}/no-such/{action}/").status_code == 404
    assert client.post(f"/bench/999/relief/{action}/").status_code == 404


@pytest.mark.parametrize("action", ["done", "skip", "open", "stringing"])
def test_a_signed_sheet_refuses_with_422(as_person, ben, sheet, action):
    sheet.signed_at, sheet.signed_by = sheet.started_at, ben
    sheet.save(update_fields=["signed_at", "signed_by"])
    sent = {"reason": "No need.", "stringing": "wrapped"}
    assert as_person(ben).post(f"/bench/{sheet.pk}/relief/{action}/", sent).status_code == 422
    assert not StepMark.objects.exists()


def test_undo_and_choose_need_a_reading(as_person, ben, sheet):
    client = as_person(ben)
    for action in ("undo", "choose"):
        for reading in ("", "x", "999"):
            assert client.post(f"/bench/{sheet.pk}/relief/{action}/", {"reading": reading}).status_code == 422


def test_undo_answers_with_what_holds_again(as_person, ben, sheet):
    build.store(sheet, ben, {"relief": [0.2, 0.9]})
    newest = sheet.readings.latest("pk")
    answer = as_person(ben).post(f"/bench/{sheet.pk}/relief/undo/", {"reading": newest.pk}, headers=JSON)
    assert answer.json()["fields"]["bench-relief"]["value"] == "0.2"
