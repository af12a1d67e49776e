"""Time on the step's page, on the whole sheet and on the order, against what was estimated."""

import uuid

from shop.orders.models import Line
from shop.worksheets import services
from shop.worksheets.models import TimeByHand, WorkSpan

JSON = {"Accept": "application/json"}


def post_span(client, sheet, **changes):
    sent = {"client_id": str(uuid.uuid4()), "began_ago": 0, "ended_ago": 0} | changes
    return client.post(f"/bench/{sheet.pk}/nut/span/", sent, headers=JSON)


def test_the_page_posts_a_stretch_and_is_told_the_time(as_person, ben, sheet):
    type(sheet).objects.filter(pk=sheet.pk).update(started_at="2026-01-01T00:00:00Z")
    answer = post_span(as_person(ben), sheet, began_ago=600_000)
    assert answer.json()["step"] == answer.json()["sheet"] == "10 min"
    assert WorkSpan.objects.get().by == ben


def test_nonsense_is_422(as_person, ben, sheet):
    for wrong in ({"began_ago": -1}, {"client_id": "x"}, {"began_ago": 10**30}, {"began_ago": 5, "ended_ago": 9}):
        assert post_span(as_person(ben), sheet, **wrong).status_code == 422
    assert not WorkSpan.objects.exists()


def test_it_is_set_by_hand_and_shown(as_person, ben, sheet):
    client = as_person(ben)
    assert client.post(f"/bench/{sheet.pk}/nut/time/", {"minutes": "25"}).status_code == 302
    assert "25 min on this step" in client.get(f"/bench/{sheet.pk}/nut/").content.decode()
    assert TimeByHand.objects.get().seconds == 1500
    assert client.post(f"/bench/{sheet.pk}/nut/time/", {"minutes": "1 h 30"}).status_code == 302
    assert TimeByHand.objects.latest("pk").seconds == 5400


def test_what_is_no_number_stays_in_its_field(as_person, ben, sheet):
    answer = as_person(ben).post(f"/bench/{sheet.pk}/nut/time/", {"minutes": "a while"})
    assert answer.status_code == 422
    assert "Write minutes, such as 90, or hours, such as 1:30 or 1.5 h." in answer.content.decode()
    assert 'value="a while"' in answer.content.decode()


def test_the_order_shows_spent_against_estimated(as_person, ben, sheet):
    Line.objects.create(order=sheet.order, text="Setup", price="95", tax_rate="20", minutes=60)
    services.set_time(sheet, step="nut", minutes=75, by=ben)
    page = as_person(ben).get(f"/orders/{sheet.order.number}/").content.decode()
    assert "<strong>1 h 15 min</strong> at the bench of 1 h 00 min estimated" in page
    assert "over the estimate" in page


def test_the_whole_sheet_lists_the_steps(as_person, ben, sheet):
    services.set_time(sheet, step="nut", minutes=75, by=ben)
    page = as_person(ben).get(f"/bench/{sheet.pk}/compare/").content.decode()
    assert "Time at the bench" in page
    assert "<dt>Nut slots</dt><dd>1 h 15 min</dd>" in page


def test_the_counter_changes_no_time(as_person, cleo, sheet):
    assert post_span(as_person(cleo), sheet).status_code == 403
    assert as_person(cleo).post(f"/bench/{sheet.pk}/nut/time/", {"minutes": 5}).status_code == 403
    assert "data-time-address" not in as_person(cleo).get(f"/bench/{sheet.pk}/nut/").content.decode()
