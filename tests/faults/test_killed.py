"""kill -9 of the web server, of the mail worker and of all at once, at random moments while three people write.

On PostgreSQL the database goes down, too, as if its power had gone.
"""

import sys
from contextlib import nullcontext

import pytest

from shop.ground.postgres import PrivateServer, programs
from tests import measured
from tests.faults.killing import kill_rounds, shop_in

DURABLE = ("autovacuum=off",)
HAS_SERVER = pytest.mark.skipif(programs() is None, reason="there is no PostgreSQL here")


@pytest.mark.parametrize("database", ["sqlite", pytest.param("postgresql", marks=HAS_SERVER)])
def test_nothing_acknowledged_is_lost(database, tmp_path, request):
    rounds = request.config.getoption("--rounds")
    with PrivateServer(settings=DURABLE) if database == "postgresql" else nullcontext() as server:
        shop = shop_in(tmp_path, server)
        found = kill_rounds(shop, rounds, server=server, say=lambda text: sys.stdout.write(text + "\n"))
    measured.keep(
        f"killed-{database}", rounds=rounds, killed=dict(found.killed), orders=found.orders,
        acknowledged=len(found.acknowledged), lost=0, half=0,
    )  # fmt: skip
    assert sum(found.killed.values()) == rounds
    assert found.orders >= rounds
