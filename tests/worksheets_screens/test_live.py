"""What a page asks between whiles: has another tablet changed anything?"""

import re

import pytest

from shop.worksheets.evaluation import evaluate
from shop.worksheets.shown import step_page
from tests import worksheet_builders as build


def test_nothing_new_is_204(as_person, ben, sheet):
    client = as_person(ben)
    stamp = client.get(f"/bench/{sheet.pk}/relief/live/").json()["stamp"]
    answer = client.get(f"/bench/{sheet.pk}/relief/live/", {"since": stamp})
    assert (answer.status_code, answer.content) == (204, b"")


def test_a_reading_a_mark_and_a_remark_each_change_the_stamp(as_person, ben, sheet):
    client = as_person(ben)
    stamps = [client.get(f"/bench/{sheet.pk}/relief/live/").json()["stamp"]]
    build.store(sheet, ben, {"relief": 0.2})
    stamps.append(client.get(f"/bench/{sheet.pk}/relief/live/").json()["stamp"])
    client.post(f"/bench/{sheet.pk}/nut/done/")
    stamps.append(client.get(f"/bench/{sheet.pk}/relief/live/").json()["stamp"])
    client.post(f"/bench/{sheet.pk}/nut/note/", {"text": "Bone."})
    stamps.append(client.get(f"/bench/{sheet.pk}/relief/live/").json()["stamp"])
    assert len(set(stamps)) == 4


@pytest.mark.parametrize("address", ["relief/live/", "relief/"])
def test_what_is_saved_while_the_page_is_made_is_asked_for_again(as_person, ben, sheet, monkeypatch, address):
    client = as_person(ben)

    def evaluate_and_be_overtaken(worksheet, **more):
        found = evaluate(worksheet, **more)
        build.store(sheet, ben, {"relief": 0.2})
        return found

    monkeypatch.setattr(step_page, "evaluate", evaluate_and_be_overtaken)
    page = client.get(f"/bench/{sheet.pk}/{address}").content.decode()
    stamp = re.search(r'stamp"?[=:] ?"([\d.]+)"', page)[1]
    monkeypatch.undo()
    body = client.get(f"/bench/{sheet.pk}/relief/live/", {"since": stamp}).json()
    assert body["fields"]["bench-relief"]["value"] == "0.2"


def test_it_brings_the_fields_and_a_fresh_token(as_person, ben, sheet):
    build.store(sheet, ben, {"relief": 0.2})
    body = as_person(ben).get(f"/bench/{sheet.pk}/relief/live/", {"since": "old"}).json()
    assert body["fields"]["bench-relief"]["value"] == "0.2"
    assert len(body["token"]) > 30


def test_the_history_of_a_place(as_person, ben, sheet):
    build.store(sheet, ben, {"relief": [0.2, 0.31]})
    asked = {"stage": "bench", "key": "relief"}
    page = as_person(ben).get(f"/bench/{sheet.pk}/relief/history/", asked).content.decode()
    page = as_person(ben).get(f"/bench/{sheet.pk}/relief/history/", asked).content.decode()
    assert page.index("0.31") < page.index("0.20 mm")
    assert "Ben" in page


def test_a_place_that_is_not_there_has_no_history(as_person, ben, sheet):
    client = as_person(ben)
    for asked in ({}, {"stage": "bench", "key": "nut_gap"}, {"stage": "bench", "key": "relief", "string": "x"}):
        assert client.get(f"/bench/{sheet.pk}/relief/history/", asked).status_code == 404


def test_posting_is_405(as_person, ben, sheet):
    for name in ("live", "history"):
        assert as_person(ben).post(f"/bench/{sheet.pk}/relief/{name}/").status_code == 405
