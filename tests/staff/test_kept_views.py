"""Somebody keeps the way they look at a list under a name of their own; it is theirs alone and leads nowhere else."""

import pytest

from shop.staff import keeping
from shop.staff.models import KeptView

pytestmark = pytest.mark.django_db
WAITING = {"page": "orders", "query": "show=waiting&sort=-since&page=3&q=", "name": "Waits longest"}


def test_it_is_kept_shown_and_opened(as_person, cleo):
    client = as_person(cleo)
    answer = client.post("/views/keep/", WAITING)
    assert answer["Location"] == "/orders/?show=waiting&sort=-since"
    for page in ("/orders/", "/office/"):
        assert 'href="/orders/?show=waiting&amp;sort=-since"' in client.get(page).text
    assert "Waits longest" not in client.get("/customers/").text
    here = client.get("/orders/?show=waiting&sort=-since&page=2").text
    assert 'aria-current="true">Waits longest' in here
    assert "Keep this view" not in here


def test_the_same_name_keeps_what_is_asked_now(as_person, cleo):
    client = as_person(cleo)
    client.post("/views/keep/", WAITING)
    client.post("/views/keep/", WAITING | {"query": "show=late"})
    assert KeptView.objects.get().query == "show=late"


@pytest.mark.parametrize("page", ["", "office", "//evil.example", "https://evil.example/", "sign-out"])
def test_it_leads_to_our_lists_only(as_person, ada, page):
    answer = as_person(ada).post("/views/keep/", WAITING | {"page": page})
    assert answer.status_code == 422
    assert not KeptView.objects.exists()


@pytest.mark.parametrize("query", ["?//evil.example", "next=https://evil.example/", "\r\nLocation: x", "q=%0d%0aX: y"])
def test_a_hostile_query_stays_behind_the_address(as_person, cleo, query):
    answer = as_person(cleo).post("/views/keep/", WAITING | {"query": query})
    assert answer["Location"].startswith("/orders/")
    assert "\n" not in answer["Location"]


@pytest.mark.parametrize(
    ("wrong", "says"),
    [({"name": ""}, "required"), ({"name": "x" * 41}, "40"), ({"query": "q=" + "x" * 600}, "cannot be kept")],
)
def test_what_cannot_be_kept_is_said_and_stays_typed(as_person, cleo, wrong, says):
    answer = as_person(cleo).post("/views/keep/", WAITING | wrong)
    assert answer.status_code == 422
    assert says in answer.text
    assert 'name="query"' in answer.text


def test_their_number_is_bounded(as_person, cleo):
    for number in range(keeping.MOST):
        keeping.keep(cleo, page="orders", query="show=late", name=f"View {number}")
    assert "Remove one first" in as_person(cleo).post("/views/keep/", WAITING).text
    assert as_person(cleo).post("/views/keep/", WAITING | {"name": "View 1"}).status_code == 302


def test_renamed_and_removed(as_person, cleo):
    view = keeping.keep(cleo, page="orders", query="show=late", name="One")
    keeping.keep(cleo, page="orders", query="show=week", name="Two")
    client = as_person(cleo)
    assert client.post(f"/views/{view.pk}/", {"name": "Two"}).status_code == 422
    assert client.post(f"/views/{view.pk}/", {"name": "Three"})["Location"] == "/orders/?show=late"
    assert client.post(f"/views/{view.pk}/remove/").status_code == 302
    assert [one.name for one in KeptView.objects.all()] == ["Two"]


def test_nobody_elses(as_person, cleo, ben):
    view = keeping.keep(cleo, page="orders", query="show=late", name="Mine")
    client = as_person(ben)
    for answer in (client.get(f"/views/{view.pk}/"), client.post(f"/views/{view.pk}/", {"name": "x"}),
                   client.post(f"/views/{view.pk}/remove/")):  # fmt: skip
        assert answer.status_code == 404
    assert "Mine" not in client.get("/orders/").text
    assert KeptView.objects.get().name == "Mine"


def test_what_they_may_no_longer_open_is_not_shown(as_person, cleo):
    keeping.keep(cleo, page="invoices", query="state=unpaid", name="Owed")
    cleo.role = "bench"
    cleo.save(update_fields=["role"])
    assert "Owed" not in as_person(cleo).get("/office/").text
