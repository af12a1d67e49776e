"""Sign-off, acceptance by name, and opening again."""

from datetime import date, timedelta

import pytest

from shop.lib.dates import today
from shop.worksheets import forms
from shop.worksheets.models import Acceptance
from tests import factories
from tests import worksheet_builders as build


@pytest.fixture
def ready(ben):
    return build.finished(build.at_bench(factories.instrument(), ben), ben)


@pytest.fixture
def amiss(ben):
    """Everything read and done, but the relief is left too large."""
    return build.finished(build.at_bench(factories.instrument(), ben), ben, **{"left.relief": 0.6})


def test_a_clean_sheet_is_signed_and_its_order_checked(as_person, ben, ready):
    sent = {"watch": "The third tuner.", "next_check_on": f"{today() + timedelta(days=120)}"}
    answer = as_person(ben).post(f"/bench/{ready.pk}/sign/", sent)
    assert answer.url == f"/bench/{ready.pk}/compare/"
    ready.refresh_from_db()
    assert (ready.signed_by, ready.watch, ready.order.state) == (ben, "The third tuner.", "checked")
    page = as_person(ben).get(answer.url).content.decode()
    assert "Signed by Ben" in page
    assert "The third tuner." in page


def test_what_stands_open_is_listed_with_the_way_to_it(as_person, ben, amiss):
    page = as_person(ben).get(f"/bench/{amiss.pk}/sign/").content.decode()
    assert "Relief is 0.60 mm" in page
    assert f"/bench/{amiss.pk}/relief/" in page


def test_it_is_refused_with_422_and_keeps_what_was_typed(as_person, ben, amiss):
    answer = as_person(ben).post(f"/bench/{amiss.pk}/sign/", {"watch": "Dry winters."})
    assert answer.status_code == 422
    assert "It is not signed yet" in answer.content.decode()
    assert "Dry winters." in answer.content.decode()
    amiss.refresh_from_db()
    assert not amiss.is_signed


def test_a_date_that_is_none_is_422(as_person, ben, ready):
    answer = as_person(ben).post(f"/bench/{ready.pk}/sign/", {"next_check_on": "soon"})
    assert answer.status_code == 422
    assert "Write the date as year-month-day" in answer.content.decode()


@pytest.mark.parametrize(
    ("day", "says"),
    [("2027-01-31", "Sun 31 Jan 2027 is past."), ("9999-12-31", "more than ten years away"), ("2028-02-29", "")],
)
def test_nobody_is_asked_back_on_a_day_that_is_past(as_person, ben, ready, monkeypatch, day, says):
    """The old year is soon typed in a new one."""
    monkeypatch.setattr(forms, "today", lambda: date(2028, 1, 2))
    answer = as_person(ben).post(f"/bench/{ready.pk}/sign/", {"next_check_on": day})
    assert answer.status_code == (422 if says else 302)
    assert says in answer.text
    ready.refresh_from_db()
    assert ready.is_signed == (not says)


def test_a_sheet_opened_again_after_its_check_offers_a_day_to_come(as_person, ben, ready):
    client = as_person(ben)
    client.post(f"/bench/{ready.pk}/sign/", {"next_check_on": f"{today() + timedelta(days=1)}"})
    client.post(f"/bench/{ready.pk}/reopen/", {"reason": "A string broke."})
    type(ready).objects.update(next_check_on=date(2020, 2, 29))
    assert "2020-02-29" not in client.get(f"/bench/{ready.pk}/sign/").text


def test_accepted_by_name_with_a_reason_it_can_be_signed(as_person, ben, amiss):
    client = as_person(ben)
    client.post(f"/bench/{amiss.pk}/accept/", {"finding": "relief", "reason": "The player wants it so."})
    taken = Acceptance.objects.get()
    assert (taken.by, taken.reason) == (ben, "The player wants it so.")
    assert "Accepted by Ben" in client.get(f"/bench/{amiss.pk}/sign/").content.decode()
    assert client.post(f"/bench/{amiss.pk}/sign/").status_code == 302


def test_without_a_reason_it_is_422(as_person, ben, amiss):
    answer = as_person(ben).post(f"/bench/{amiss.pk}/accept/", {"finding": "relief", "reason": ""})
    assert answer.status_code == 422
    assert "Say why it may stay so." in answer.content.decode()
    assert not Acceptance.objects.exists()


def test_from_a_step_the_answer_is_that_steps_pieces(as_person, ben, amiss):
    sent = {"finding": "relief", "reason": "The player wants it so.", "step": "relief"}
    answer = as_person(ben).post(f"/bench/{amiss.pk}/accept/", sent, headers={"Accept": "application/json"})
    assert "Accepted by Ben" in answer.json()["pieces"]["findings"]


def test_an_acceptance_is_withdrawn(as_person, ben, amiss):
    client = as_person(ben)
    client.post(f"/bench/{amiss.pk}/accept/", {"finding": "relief", "reason": "So."})
    client.post(f"/bench/{amiss.pk}/withdraw/", {"finding": "relief"})
    assert Acceptance.objects.get().withdrawn_by == ben


def test_a_finding_that_is_not_there_is_422(as_person, ben, amiss):
    answer = as_person(ben).post(f"/bench/{amiss.pk}/accept/", {"finding": "no_such", "reason": "So."})
    assert answer.status_code == 422


def test_it_is_opened_again_with_a_reason(as_person, ben, ready):
    client = as_person(ben)
    client.post(f"/bench/{ready.pk}/sign/")
    refused = client.post(f"/bench/{ready.pk}/reopen/", {"reason": ""})
    assert refused.status_code == 422
    assert "Say why the worksheet is opened again." in refused.content.decode()
    client.post(f"/bench/{ready.pk}/reopen/", {"reason": "A string broke."})
    ready.refresh_from_db()
    assert (ready.is_signed, ready.order.state) == (False, "on_bench")


@pytest.mark.parametrize("action", ["accept", "withdraw", "reopen", "sign"])
def test_the_counter_may_not(as_person, cleo, ready, action):
    assert as_person(cleo).post(f"/bench/{ready.pk}/{action}/").status_code == 403


@pytest.mark.parametrize("action", ["accept", "withdraw", "reopen"])
def test_reading_it_is_405(as_person, ben, ready, action):
    assert as_person(ben).get(f"/bench/{ready.pk}/{action}/").status_code == 405


def test_the_whole_sheet_side_by_side(as_person, ben, amiss):
    page = as_person(ben).get(f"/bench/{amiss.pk}/compare/").content.decode()
    assert page.count('class="dg"') > 20
    assert "As received 0.20 mm, as left 0.60 mm, target between 0.10 and 0.30 mm." in page
    assert "out of range" in page


def test_nothing_read_is_said(as_person, ben):
    sheet = build.worksheet(build.at_bench(factories.instrument(), ben), ben)
    assert "nothing to compare" in as_person(ben).get(f"/bench/{sheet.pk}/compare/").content.decode()
