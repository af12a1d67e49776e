"""No page reads a whole table that grows with the work: asked of SQLite's own plan, which is the same for few rows."""

import re

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from shop.lib import pdf
from shop.staff.models import Person
from tests.hardening import full_shop

pytestmark = [
    pytest.mark.django_db,
    pytest.mark.skipif(connection.vendor != "sqlite", reason="a server plans by how many rows there are"),
]
GROWS = re.compile(r"orders_(?!benchhours|closeddays)|billing_|handover_(?!mailwording)|people_|instruments_|"
                   r"worksheets_(?!target|taste|bench)|stock_movement|staff_auditentry")  # fmt: skip
WALKED = re.compile(r"SCAN (\w+)( USING .+)?$")
ALIAS = re.compile(r'"(\w+)" ([TUVW]\d+)\b')
# Everything is what these are asked for.
GIVES_OUT = re.compile(r"export|everything|cards|csv|zip|papers|figures|recheck")
SEARCHES = ("/orders/?q=reed", "/customers/?q=reed", "/instruments/?q=la", "/invoices/?q=26-0", "/mail/?q=reed",
            "/mail/?q=mara@example.com", "/mail/?q=26-0", "/office/record/?q=payment 26", "/invoices/?state=overdue",
            "/orders/?show=late", "/mail/?state=failed")  # fmt: skip


def read_whole(sql):
    """The tables that grow and that a statement goes through from one end, without stopping once it has enough."""
    if not sql.startswith("SELECT") or "LIMIT" in sql:
        return set()
    with connection.cursor() as cursor:
        cursor.execute(f"EXPLAIN QUERY PLAN {sql.replace('%', '%%')}", ())
        walked = [found[1] for row in cursor.fetchall() if (found := WALKED.match(row[3]))]
    names = {alias: table for table, alias in ALIAS.findall(sql)}
    return {table for table in (names.get(one, one) for one in walked) if GROWS.match(table)}


def test_no_page_reads_a_table_from_end_to_end(monkeypatch):
    monkeypatch.setattr(pdf, "pdf_of", full_shop.Papers())  # what is asked for a paper is asked before it is set
    full_shop.fill()
    client = Client()
    client.force_login(Person.objects.filter(role="owner").first())
    found = {}
    for path in [path for name, path in full_shop.addresses() if not GIVES_OUT.search(name)] + list(SEARCHES):
        with CaptureQueriesContext(connection) as caught:
            client.get(path)
        found |= {(path, table): one["sql"] for one in caught.captured_queries for table in read_whole(one["sql"])}
    assert found == {}
