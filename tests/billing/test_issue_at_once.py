"""Numbers stay unique and gapless, whoever issues at the same moment."""

import threading

import pytest
from django.db import connection

from shop.billing import services
from shop.billing.models import Invoice
from tests import factories
from tests import money_builders as build
from tests.processes import ShopOnDisk

ORDERS = 12
SET_UP = f"""
from tests import factories, money_builders as build
cleo = factories.cleo()
instrument = factories.instrument()
for _ in range({ORDERS}):
    build.order(cleo, instrument=instrument)
"""
ISSUE = """
import sys
from shop.billing import services
from shop.orders.models import WorkOrder
from shop.staff.models import Person
orders = list(WorkOrder.objects.order_by("pk"))
if sys.argv[1] == "back":
    orders.reverse()
for order in orders:
    services.issue(order, by=Person.objects.get(username="cleo"))
"""
NUMBERS = """
from shop.billing.models import Invoice
print(*Invoice.objects.order_by("number").values_list("number", flat=True))
"""


def test_processes_on_one_file(tmp_path):
    """Four processes issue the same twelve orders, two of them from the far end: twelve numbers, no gap, no double."""
    shop = ShopOnDisk(tmp_path)
    shop.say(SET_UP)
    shop.run((ISSUE, "on"), (ISSUE, "back"), (ISSUE, "on"), (ISSUE, "back"))
    numbers = shop.say(NUMBERS).split()
    assert [int(number.partition("-")[2]) for number in numbers] == list(range(1, ORDERS + 1))


@pytest.mark.django_db(transaction=True)
@pytest.mark.skipif(connection.vendor == "sqlite", reason="SQLite in memory has one writer; processes show it there")
def test_threads_on_a_server():
    cleo = factories.cleo()
    instrument = factories.instrument()
    orders = [build.order(cleo, instrument=instrument) for _ in range(ORDERS)]

    def issue_all(in_order):
        for order in in_order:
            services.issue(order, by=cleo)
        connection.close()

    threads = [threading.Thread(target=issue_all, args=[orders[:: 1 if n % 2 else -1]]) for n in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    numbers = Invoice.objects.order_by("number").values_list("number", flat=True)
    assert [int(number.partition("-")[2]) for number in numbers] == list(range(1, ORDERS + 1))
