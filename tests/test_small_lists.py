"""Lists that stay short in most workshops, too, sort, turn pages, are kept as views and come as a table."""

import csv
import io
from datetime import timedelta

import pytest
from django.core.paginator import Paginator
from django.urls import reverse
from django.utils import timezone

from shop.billing import services as billing
from shop.instruments.kinds import Kind
from shop.lib.dates import today
from shop.orders.models import ClosedDays
from shop.staff.branches import open_branch
from shop.staff.models import Branch, SignedIn
from shop.stock.models import Supplier
from shop.worksheets.models import TargetProfile, TargetRange
from shop.worksheets.profiles import ensure_usual_profiles
from tests import factories, money_builders
from tests.counting import stays_the_same
from tests.stock_builders import part


def profiles(_ada, numbers):
    for number in numbers:
        made = TargetProfile.objects.create(name=f"Profile {number}", kind=Kind.BASS)
        TargetRange.objects.create(profile=made, key="relief", low=0.1 * number, high=None)


def branches(_ada, numbers):
    for number in numbers:
        first = {} if Branch.objects.count() > 1 else {"first_name": "High Street"}
        made = open_branch({"name": f"Place {9 - number}", "mark": "XYZUVWRST"[number]}, **first)
        made.people.add(factories.person(f"somebody{number}", "bench"))


def closed(_ada, numbers):
    for number in numbers:
        day = today() + timedelta(days=number)
        ClosedDays.objects.create(first=day, last=day, name=f"Holiday {9 - number}")


def devices(ada, numbers):
    for number in numbers:
        now = timezone.now()
        SignedIn.objects.create(
            session_key=f"device{number}", session_data="", expire_date=now + timedelta(days=1), person=ada,
            began_at=now, seen_at=now - timedelta(days=1 + number), address=f"192.0.2.{number}",
            device=f"Tab {9 - number}",
        )  # fmt: skip


def overdue(ada, numbers):
    for number in numbers:
        who = factories.customer(name=f"Fell {9 - number}", email=f"m{number}@example.com")
        invoice = billing.issue(money_builders.order(ada, instrument=factories.instrument(who)), by=ada)
        due = today() - timedelta(days=30 + number)
        type(invoice.balance).objects.filter(invoice=invoice).update(due_on=due)


def short(ada, numbers):
    supplier = Supplier.objects.get_or_create(name="Fell")[0]
    for number in numbers:
        part(f"Peg {9 - number}", reorder_at=1, order_up_to=2 + number, supplier=supplier)


def nothing(_ada, _numbers):
    """Of these there are always as many."""


# The list: what fills it, its table, how a row is known on the page, and where that stands in the table.
LISTS = {
    "profiles": (profiles, "profiles-export", lambda one: one.name, "profile"),
    "branches": (branches, "branches-export", lambda one: one.name, "branch"),
    "bench-hours": (closed, "closed-export", lambda one: one.name, "what for"),
    "you": (devices, "devices-export", lambda one: one.device, "device"),
    "reminders": (overdue, "reminders-export", lambda one: one.number, "invoice"),
    "reorder": (short, "reorder-export", lambda one: one.levels[0].item.name, "item"),
    "health": (nothing, "health-export", lambda one: one.name, "what"),
    "mail-words": (nothing, "mail-words-export", lambda one: one.title, "mail"),
}


def table(client, export, sort):
    text = b"".join(client.get(f"{reverse(export)}?sort={sort}").streaming_content).decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("name", LISTS)
def test_it_sorts_both_ways_the_table_follows_and_it_can_be_kept(as_person, ada, name):
    fill, export, known, column = LISTS[name]
    fill(ada, range(3))
    client = as_person(ada)
    offered = client.get(reverse(name)).context["sorting"].offered
    assert offered
    for key in offered:
        for sort in (key, f"-{key}"):
            answer = client.get(f"{reverse(name)}?sort={sort}")
            assert f'value="{sort}" selected' in answer.text
            assert "Keep this view" in answer.text
            shown = [known(one) for one in answer.context["page"]]
            rows = [one[column] for one in table(client, export, sort)]
            assert shown == rows[:1] if name == "reorder" else shown == rows
    assert client.post("/views/keep/", {"page": name, "query": "sort=x", "name": "Mine"}).status_code == 302
    assert "Mine" in client.get("/office/").text


@pytest.mark.parametrize("name", [name for name, (fill, *_) in LISTS.items() if fill is not nothing])
def test_more_rows_take_no_more_questions(as_person, ada, name):
    fill = LISTS[name][0]
    fill(ada, range(2))
    stays_the_same(as_person(ada), reverse(name), lambda: fill(ada, range(3, 7)))


@pytest.mark.parametrize("name", ["profiles", "branches", "bench-hours", "you", "reminders"])
def test_many_turn_pages(as_person, ada, name, monkeypatch):
    monkeypatch.setattr("django.core.paginator.Paginator.page", paged(2))
    LISTS[name][0](ada, range(5))
    assert "Next page" in as_person(ada).get(reverse(name)).text


def paged(most):
    """A page of `most` rows, whatever the list asks for."""
    page = Paginator.page

    def small(self, number):
        self.per_page = most
        return page(self, number)

    return small


def test_the_table_of_profiles_has_a_row_each_with_its_targets(as_person, ada):
    ensure_usual_profiles()
    profiles(ada, [2])
    rows = table(as_person(ada), "profiles-export", "kind")
    own = next(one for one in rows if one["profile"] == "Profile 2")
    assert (own["for"], own["usual"], own["relief (mm)"], own["octave (cents)"]) == ("bass guitar", "no", "0.2 …", "")


@pytest.mark.django_db
def test_only_what_belongs_to_one_is_listed_and_comes_as_a_table(as_person, ada):
    mara, other = factories.customer(name="Mara Fell"), factories.customer(name="Mara Fell")
    mine, theirs = (money_builders.order(ada, instrument=factories.instrument(one)) for one in (mara, other))
    for one in (mine, theirs):
        billing.issue(one, by=ada)
    client = as_person(ada)
    for name, query in (("orders", f"customer={mara.pk}"), ("orders", f"instrument={mine.instrument_id}"),
                        ("instruments", f"customer={mara.pk}"), ("invoices", f"customer={mara.pk}")):  # fmt: skip
        answer = client.get(f"/{name}/?{query}")
        assert len(answer.context["page"]) == 1, name
        assert "Only of" in answer.text
        assert f'type="hidden" name="{query.split("=")[0]}"' in answer.text
    assert [one["number"] for one in table(client, "orders-export", f"number&customer={mara.pk}")] == [mine.number]
    assert f"/orders/?customer={mara.pk}" in client.get(f"/customers/{mara.pk}/").text
    assert f"/orders/?instrument={mine.instrument_id}" in client.get(f"/instruments/{mine.instrument_id}/").text
    for nonsense in ("x", "0", "9" * 30):
        assert client.get(f"/orders/?customer={nonsense}").status_code == 200
