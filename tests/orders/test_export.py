"""The list as a table for a spreadsheet."""

import csv
import io

import pytest

from tests import factories
from tests.counter_builders import booked

pytestmark = pytest.mark.django_db


def rows(client, query=""):
    answer = client.get(f"/orders/export.csv{query}")
    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    text = b"".join(answer.streaming_content).decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_every_page_of_what_is_asked_for(as_person, ada):
    one = factories.instrument()
    orders = [booked(ada, instrument=one) for _ in range(45)]
    booked(ada, customer=factories.customer(name="Somebody Else", email="else@example.com"))
    found = rows(as_person(ada), "?q=mara")
    assert {row["number"] for row in found} == {order.number for order in orders}


def test_what_it_says(as_person, ada):
    order = booked(ada, complaint='Says: "buzz",\nsecond line', rack_slot="B2")
    (row,) = rows(as_person(ada))
    assert row["number"] == order.number
    assert row["complaint"] == 'Says: "buzz",\nsecond line'
    assert (row["customer"], row["rack"], row["state"]) == ("Mara Fell", "B2", "booked in")


def test_nothing_that_a_spreadsheet_would_run(as_person, ada):
    booked(ada, customer=factories.customer(name="=1+1", phone="+44 1632 960123"), complaint="@SUM(A1)", rack_slot="-2")
    (row,) = rows(as_person(ada))
    assert [row[name] for name in ("customer", "telephone", "complaint", "rack")] == [
        "'=1+1", "'+44 1632 960123", "'@SUM(A1)", "'-2",
    ]  # fmt: skip


def test_nothing_to_say_is_a_table_with_a_head(as_person, ada):
    assert rows(as_person(ada), "?q=nobody") == []


@pytest.mark.parametrize("who", ["ben", "cleo"])
def test_only_the_owner(as_person, request, who):
    assert as_person(request.getfixturevalue(who)).get("/orders/export.csv").status_code == 403
