"""Rows in pages: sorted once they are found, they come in the order they would have had."""

import pytest
from django.db import connection

from shop.lib.paging import BoundedPaginator, apart
from shop.people.models import Customer
from tests import factories

NAMES = ["Zofia Lind", "Arne Holt", "Mara Fell", "Arne Holt", "Bo Dahl"]


@pytest.fixture
def rows(db):
    for name in NAMES:
        factories.customer(name)
    return Customer.objects.all()


@pytest.mark.parametrize("order", [(), ("-pk",), ("name", "-pk"), ("-name", "pk"), ("email", "-name", "pk")])
def test_it_changes_no_order(rows, order):
    asked = rows.order_by(*order) if order else rows
    assert list(apart(asked)) == list(asked)


def test_no_index_is_gone_through_for_it(rows):
    """Both databases would walk along the index of names for the first of them."""
    few = rows.filter(pk__in=list(rows.values_list("pk", flat=True)[:2]))
    assert "customer_name" not in apart(few)[:1].explain()
    if connection.vendor == "sqlite":
        assert "customer_name" in rows[:1].explain()


@pytest.mark.parametrize("few", [0, 4, 10])
def test_what_was_sought_fills_its_pages_whichever_way(rows, monkeypatch, few):
    monkeypatch.setattr("shop.lib.paging.MOST", 3)
    monkeypatch.setattr("shop.lib.paging.FEW", few)
    paginator = BoundedPaginator(rows, 2)
    paginator.shown, paginator.sought = Customer.objects.prefetch_related("instruments"), True
    assert [one.name for number in (1, 2) for one in paginator.page(number)] == sorted(NAMES)[:3]
