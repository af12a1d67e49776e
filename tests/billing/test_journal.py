"""The month's journal: its sums are the database's, to the cent, in every rate, and on paper as on screen."""

import csv
import io
from decimal import Decimal

import pytest
from django.db.models import Sum
from django.urls import reverse

from shop.billing import journal, statements
from shop.billing import services as billing
from shop.billing.models import Invoice, Payment
from shop.lib import money
from shop.lib.dates import today
from tests import factories, money_builders
from tests.billing.many_invoices import many, sums_agree
from tests.papers import builders, reading


@pytest.fixture
def month():
    return journal.Month(today().year, today().month)


def test_the_sums_are_the_databases(cleo, month):
    """Of 500 here; of ten thousand among the benchmarks."""
    sums_agree(many(500, by=cleo, seed=11), month)


def test_the_table_says_the_same(as_person, ada, month):
    many(30, by=ada, seed=3)
    answer = as_person(ada).get(reverse("month-csv", args=[month.year, month.month]))
    rows = list(csv.DictReader(io.StringIO(b"".join(answer.streaming_content).decode("utf-8-sig"))))
    found = Invoice.objects.issued().aggregate(net=Sum("net"), tax=Sum("tax"), total=Sum("total"))
    for column, name in (("net", "net"), ("tax", "tax"), ("gross", "total")):
        assert sum(Decimal(row[column]) for row in rows) == found[name]
    assert {row["number"] for row in rows} == set(Invoice.objects.values_list("number", flat=True))


def test_the_paper_says_the_same(cleo, month):
    workshop = builders.shop()
    many(12, by=cleo, seed=5)
    text = reading.text(statements.journal_pdf(month, workshop))
    (sums,) = journal.sums_of(journal.entries(month))
    for amount in (sums.net, sums.tax, sums.total, *(one.tax for one in sums.rates)):
        assert money.plain(amount) in text
    for number in Invoice.objects.values_list("number", flat=True):
        assert number in text


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_nothing_stands_beyond_the_margins(cleo, month, size):
    workshop = builders.shop(paper=size)
    builders.issued(cleo, 3, long=True)
    assert reading.beyond_the_margins(statements.journal_pdf(month, workshop)) == []


def test_money_moved_is_the_databases(cleo, month):
    for amount, kind in (("20.00", "cash"), ("31.00", "card"), ("9.00", "cash")):
        order = money_builders.order(cleo)
        billing.receive(order, amount=Decimal(amount), kind=kind, key=money_builders.key(), by=cleo)
    billing.give_back(order, amount=Decimal("4.00"), kind="cash", reason="x", key=money_builders.key(), by=cleo)
    found = {one.kind: (one.received, one.given_back) for one in journal.moved(month)}
    assert found == {"cash": (Decimal("29.00"), Decimal("4.00")), "card": (Decimal("31.00"), Decimal("0.00"))}
    assert sum(one.kept for one in journal.moved(month)) == Payment.objects.aggregate(sum=Sum("amount"))["sum"]


def test_the_page_of_an_empty_month_and_of_none(as_person, cleo):
    client = as_person(cleo)
    assert "No invoice was issued" in client.get(reverse("month", args=[2020, 2])).content.decode()
    for year, month in ((2026, 13), (2026, 0), (1, 1), (99999, 1)):
        assert client.get(f"/invoices/months/{year}/{month}/").status_code == 404
    assert client.get(reverse("month-now")).status_code == 302


def test_another_months_invoice_is_not_in_it(cleo, month):
    billing.issue(money_builders.order(cleo), by=cleo)
    assert list(journal.entries(month.before)) == []
    assert len(list(journal.entries(month))) == 1


@pytest.mark.parametrize(
    ("year", "month", "before", "after"), [(2026, 1, (2025, 12), (2026, 2)), (2026, 12, (2026, 11), (2027, 1))]
)
def test_months_follow_one_another(year, month, before, after):
    one = journal.Month(year, month)
    assert (one.before.year, one.before.month) == before
    assert (one.after.year, one.after.month) == after


def test_what_is_too_long_for_paper_is_said(as_person, cleo, month, monkeypatch):
    monkeypatch.setattr(statements, "MOST_ROWS", 0)
    billing.issue(money_builders.order(cleo), by=cleo)
    answer = as_person(cleo).get(reverse("month-pdf", args=[month.year, month.month]), follow=True)
    assert "take the table for a spreadsheet" in answer.content.decode()


def test_the_statement_adds_up_what_is_open(as_person, cleo):
    workshop = builders.shop()
    customer = factories.customer(name="Ada Open")
    for price in ("85.00", "40.50"):
        order = money_builders.order(cleo, lines=(("Setup", price),), instrument=factories.instrument(customer))
        billing.issue(order, by=cleo)
    billing.receive(order, amount=Decimal("10.50"), kind="cash", key=money_builders.key(), by=cleo)
    text = reading.text(statements.statement_pdf(customer, workshop))
    assert "Still to pay €115.00" in text
    page = as_person(cleo).get(reverse("customer", args=[customer.pk])).content.decode()
    assert reverse("statement", args=[customer.pk]) in page
    assert as_person(cleo).get(reverse("statement", args=[customer.pk])).status_code == 200


def test_who_owes_nothing_is_told_so(cleo):
    assert "Nothing is open" in reading.text(statements.statement_pdf(factories.customer(), builders.shop()))
