"""Every list: sorted by its heads, either way round, and in its table for a spreadsheet in the same order."""

import csv
import io
import uuid
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.billing import services as billing
from shop.handover.models import OutgoingMail, SilencedAddress
from shop.lib.sorting import Column, Sorting
from shop.staff import audit
from shop.staff.exports import WORDS
from shop.staff.models import AuditEntry, Person
from shop.stock.models import PriceItem, Supplier
from shop.stock.services import shelf
from tests import factories, money_builders
from tests.counting import stays_the_same
from tests.stock_builders import part
from tests.worksheet_builders import at_bench

pytestmark = pytest.mark.django_db
HOSTILE = "=1+2"


def fill(ada, count=3, start=0):
    """Some rows in every list."""
    now = timezone.now()
    for number in range(start, start + count):
        who = factories.customer(name=f"Fell {9 - number}", email=f"m{number}@example.com")
        order = money_builders.order(ada, instrument=factories.instrument(who, serial=f"LR-{number}"))
        billing.issue(order, by=ada)
        part(f"Fell {number}", amount=str(number + 1), place=f"drawer {9 - number}")
        audit.write(audit.AuditKind.MONEY, f"Fell {number}.", by=ada)
        Supplier.objects.create(name=f"Fell {number}", customer_number=f"K{9 - number}")
        Person.objects.create(username=f"fell{9 - number}", shown_name=f"Fell {number}", role="bench")
        SilencedAddress.objects.create(address=f"m{number}@example.com", reason="Asked for it.", since=now, by=ada)
        shelf.receive(moved(), quantity=Decimal(number + 1), by=ada, key=uuid.uuid4())
        at_bench(order.instrument, ada)
        OutgoingMail.objects.create(
            name="test", customer=who, order=order, to=who.email, sender="x@example.com", subject="Fell", text="t",
            message_id=f"<{number}@example.com>", next_try_at=now, queued_at=now,
        )  # fmt: skip


def moved():
    """The item whose movements are listed."""
    return PriceItem.objects.filter(name="Nut blank").first() or part("Nut blank")


def address(name):
    return reverse(name, args=[moved().pk] if name.startswith("part") else [])


# The list, its table, something that narrows it, and what of a row tells its place.
LISTS = {
    "customers": ("customers-export", "q=fell", lambda one: one.pk),
    "instruments": ("instruments-export", "q=larkrise", lambda one: one.pk),
    "orders": ("orders-export", "q=fell", lambda one: one.number),
    "invoices": ("invoices-csv", "q=fell", lambda one: one.number),
    "shelf": ("shelf-export", "q=fell", lambda one: one.item.name),
    "prices": ("prices-export", "q=fell", lambda one: one.name),
    "mail": ("mail-export", "q=fell", lambda one: one.to),
    "suppliers": ("suppliers-export", "", lambda one: one.name),
    "staff": ("staff-export", "", lambda one: one.username),
    "mail-silenced": ("silenced-export", "", lambda one: one.address),
    "part": ("part-export", "", lambda one: one.quantity),
    "bench": ("bench-export", "", lambda one: one.number),
    "audit": ("audit-export", "q=fell", lambda one: one.text),
}


def table(client, name, query):
    text = b"".join(client.get(f"{address(name)}?{query}").streaming_content).decode("utf-8-sig")
    return list(csv.reader(io.StringIO(text)))


@pytest.mark.parametrize("name", LISTS)
def test_every_head_sorts_both_ways_and_the_table_follows(as_person, ada, name):
    fill(ada)
    client = as_person(ada)
    export, narrowed, told = LISTS[name]
    offered = client.get(f"{address(name)}?{narrowed}").context["sorting"].offered
    assert offered
    for key in offered:
        ways = []
        for sort, stands in ((key, "ascending"), (f"-{key}", "descending")):
            answer = client.get(f"{address(name)}?{narrowed}&sort={sort}")
            assert f'<option value="{sort}" selected>' in answer.text
            if name != "bench":  # its jobs are no rows under heads
                assert answer.text.count("aria-sort") == 1
                assert f'aria-sort="{stands}"' in answer.text
            ways.append([told(one) for one in answer.context["page"]])
            rows = table(client, export, f"{narrowed}&sort={sort}")[1:]
            assert len(rows) == len(ways[-1]) >= 3
            assert all(str(one) in row for one, row in zip(ways[-1], rows, strict=True)), f"{name} {sort}"
        assert set(ways[0]) == set(ways[1])


@pytest.mark.parametrize("name", LISTS)
def test_what_is_no_column_is_not_asked(as_person, ada, name):
    fill(ada, 1)
    for sort in ("nonsense", "--", "-", "pk", "customer__email", "x" * 400):
        assert as_person(ada).get(f"{address(name)}?sort={sort}").status_code == 200


@pytest.mark.parametrize("name", LISTS)
def test_more_rows_take_no_more_questions(as_person, ada, name):
    fill(ada)
    stays_the_same(as_person(ada), f"{address(name)}?{LISTS[name][1]}", lambda: fill(ada, 4, start=3))


@pytest.mark.parametrize("name", ["customers", "instruments", "prices", "mail"])
def test_a_table_is_the_owners_is_written_down_and_runs_nothing(as_person, ada, cleo, name):
    who = factories.customer(name=HOSTILE)
    factories.instrument(who, maker=HOSTILE)
    part(HOSTILE)
    OutgoingMail.objects.create(
        name="test", customer=who, to="x@example.com", sender="x@example.com", subject=HOSTILE, text="t",
        message_id="<1@example.com>", next_try_at=timezone.now(), queued_at=timezone.now(),
    )  # fmt: skip
    export = LISTS[name][0]
    cells = [cell for row in table(as_person(ada), export, "") for cell in row]
    assert f"'{HOSTILE}" in cells
    assert HOSTILE not in cells
    assert AuditEntry.objects.filter(kind="export", text=f"Exported {WORDS[export]}.").exists()
    assert as_person(cleo).get(reverse(export)).status_code == 403


def test_a_table_of_figures_is_written_down_too(as_person, ada):
    assert as_person(ada).get("/figures/revenue.csv").status_code == 200
    assert AuditEntry.objects.filter(kind="export", text="Exported the figures: revenue.").exists()


def test_the_other_filters_stay_when_a_head_is_pressed(as_person, ada):
    fill(ada, 1)
    page = as_person(ada).get("/orders/?q=fell&show=all&page=1").text
    assert "?q=fell&amp;show=all&amp;sort=number" in page


def test_columns_that_no_index_carries_wait_until_the_list_is_narrow():
    columns = (Column("a", "A", ("a",)), Column("b", "B", ("b", "-c"), narrow=True), Column("c", "C"))
    assert Sorting(columns, "b", usual="a", is_narrow=False).now == "a"
    assert Sorting(columns, "-b", usual="a").order_by == ("-b", "c")
    assert [head.to for head in Sorting(columns, "a", usual="a").heads] == ["-a", "b", ""]
