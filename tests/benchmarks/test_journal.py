"""The journal of a month of ten thousand invoices: right to the cent, and how long it takes."""

import time

import pytest

from shop.billing.journal import Month
from shop.lib.dates import today
from tests.benchmarks.clock import show
from tests.billing.many_invoices import many, sums_agree


@pytest.mark.django_db
def test_ten_thousand_invoices_add_up_to_what_the_database_says(cleo):
    reckoned = many(10_000, by=cleo, seed=11)
    began = time.perf_counter()
    sums_agree(reckoned, Month(today().year, today().month))
    show(f"journal of {len(reckoned)} papers, summed in three ways: {time.perf_counter() - began:.1f} s")
