"""kill -9 of the web server, of the mail worker and of all at once, at random moments while three people write."""

import sys

from tests import measured
from tests.faults.killing import kill_rounds, shop_in


def test_nothing_acknowledged_is_lost(tmp_path, request):
    rounds = request.config.getoption("--rounds")
    found = kill_rounds(shop_in(tmp_path), rounds, say=lambda text: sys.stdout.write(text + "\n"))
    measured.keep(
        "killed", rounds=rounds, killed=dict(found.killed), orders=found.orders,
        acknowledged=len(found.acknowledged), lost=0, half=0,
    )  # fmt: skip
    assert sum(found.killed.values()) == rounds
    assert found.orders >= rounds
