"""The database server goes away for a while: the shop says so, and goes on by itself when it is back."""

import os
import time

import pytest

from shop.ground.postgres import PrivateServer, programs
from tests.faults.counter import Counter
from tests.processes import ShopOnDisk
from tests.running_shop import RunningShop

NUMBERS = """
from shop.orders.models import WorkOrder
print(*WorkOrder.objects.order_by("pk").values_list("number", flat=True))
"""
AWAY_S = float(os.environ.get("SERVER_AWAY_S", "60"))
DURABLE = ("autovacuum=off",)
pytestmark = pytest.mark.skipif(programs() is None, reason="there is no PostgreSQL here")


def test_gone_for_a_minute(tmp_path):
    with PrivateServer(settings=DURABLE) as server:
        shop = ShopOnDisk(tmp_path, on_server=server.url)
        assert shop.manage("upgrade").returncode == 0
        shop.say("from tests import factories; factories.cleo()")
        with RunningShop(tmp_path, "--no-demo", DATABASE_URL=server.url) as running:
            counter = Counter(running.wait_until_open()).sign_in()
            kept = [counter.book_in() for _ in range(3)]
            server.stop()
            asked = time.monotonic()
            while time.monotonic() - asked < AWAY_S:
                status, _, body = counter.ask("GET", "/orders/")
                assert status >= 500
                assert "Traceback" not in body
                time.sleep(1)
            server.start()
            kept += [counter.book_in() for _ in range(3)]
            assert counter.ask("GET", "/orders/")[0] == 200
            assert running.process.poll() is None
        assert shop.say(NUMBERS).split() == kept
