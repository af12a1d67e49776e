"""The list of invoices: what is found, in how many questions, and as a table."""

import csv
from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.billing import services
from shop.billing.models import Invoice
from tests import factories
from tests import money_builders as build
from tests.counting import stays_the_same


def issued(by, name="Mara Fell", price="100.00", paid="0", **workshop):
    factories.workshop(**({"payment_days": 14} | workshop))
    who = factories.customer(name)
    order = build.order(by, lines=[("Setup", price)], instrument=factories.instrument(who))
    invoice = services.issue(order, by=by)
    if Decimal(paid):
        services.receive(order, amount=Decimal(paid), kind="cash", key=build.key(), by=by)
    return invoice


@pytest.fixture
def four(cleo):
    """One open, one part paid, one paid, and one credited with its credit note."""
    found = {
        "open": issued(cleo, "Anna Open"), "part": issued(cleo, "Piet Part", paid="40"),
        "paid": issued(cleo, "Paula Paid", paid="100"), "credited": issued(cleo, "Carl Credit"),
    }  # fmt: skip
    found["note"] = services.credit(found["credited"], reason="Wrong.", by=cleo)
    return found


def numbers(client, **query):
    page = client.get(reverse("invoices"), query)
    return {row.number for row in page.context["page"]}


@pytest.mark.parametrize(
    ("query", "found"),
    [
        ({}, ["open", "part", "paid", "credited", "note"]),
        ({"state": "open"}, ["open"]),
        ({"state": "part_paid"}, ["part"]),
        ({"state": "paid"}, ["paid"]),
        ({"state": "credited"}, ["credited"]),
        ({"state": "credit_note"}, ["note"]),
        ({"state": "unpaid"}, ["open", "part"]),
        ({"state": "overdue"}, []),
        ({"state": "nonsense"}, ["open", "part", "paid", "credited", "note"]),
        ({"q": "paula"}, ["paid"]),
        ({"q": "nobody"}, []),
        ({"first": "2199-01-01"}, []),
        ({"last": "2000-01-01"}, []),
        ({"first": "soon"}, ["open", "part", "paid", "credited", "note"]),
    ],
)
def test_what_is_asked_for_is_found(four, cleo, as_person, query, found):
    assert numbers(as_person(cleo), **query) == {four[name].number for name in found}


def test_by_number_of_invoice_or_order(four, cleo, as_person):
    client = as_person(cleo)
    assert numbers(client, q=four["part"].number.lower()) == {four["part"].number}
    assert numbers(client, q=four["part"].order.number) == {four["part"].number}


def test_overdue_is_what_is_unpaid_after_its_day(four, cleo, as_person, monkeypatch):
    later = timezone.localdate() + timedelta(days=15)
    monkeypatch.setattr("shop.billing.forms.today", lambda: later)
    assert numbers(as_person(cleo), state="overdue") == {four["open"].number, four["part"].number}


def test_drafts_are_listed_when_asked_for(four, cleo, as_person):
    draft = services.set_discount(build.order(cleo), percent=Decimal(5), reason="friend", by=cleo)
    page = as_person(cleo).get(reverse("invoices"), {"state": "draft"})
    assert [row.pk for row in page.context["page"]] == [draft.pk]


def test_sums_of_what_is_found(four, cleo, as_person):
    page = as_person(cleo).get(reverse("invoices"), {"state": "unpaid"})
    assert page.context["sums"]["total"] == Decimal("200.00")
    assert as_person(cleo).get(reverse("invoices")).context["sums"] is None


def test_credit_notes_take_their_invoices_out_of_the_sums(four, cleo, as_person):
    page = as_person(cleo).get(reverse("invoices"), {"first": "2000-01-01"})
    assert page.context["sums"]["total"] == Decimal("300.00")


def test_an_empty_shop_says_so(cleo, as_person):
    assert "No invoice has been issued yet." in as_person(cleo).get(reverse("invoices")).content.decode()


@pytest.mark.parametrize("query", ["", "?state=unpaid", "?q=mara", "?first=2000-01-01"])
def test_twice_the_rows_take_no_more_questions(cleo, as_person, query):
    def issue(count):
        for _ in range(count):
            issued(cleo)

    issue(3)
    stays_the_same(as_person(cleo), reverse("invoices") + query, lambda: issue(6))


def test_the_table_for_spreadsheets(ada, cleo, as_person):
    issued(cleo, "=cmd()", price="1200.00", paid="200")
    answer = as_person(ada).get(reverse("invoices-csv"))
    rows = list(csv.DictReader(b"".join(answer.streaming_content).decode("utf-8-sig").splitlines()))
    assert (rows[0]["customer"], rows[0]["total"], rows[0]["open"]) == ("'=cmd()", "1200.00", "1000.00")
    assert rows[0]["standing"] == "part paid"
    assert Invoice.objects.get().number == rows[0]["number"]
