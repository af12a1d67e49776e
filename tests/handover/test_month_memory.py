"""A month's papers one after another, in a process of their own: memory does not grow with their number.

`PAPERS_MONTH=500 python3 -m tests tests/handover/test_month_memory.py -s` makes as many as a busy month has, and prints
what was measured.
"""

import os
import sys

import pytest

from tests.processes import ShopOnDisk

COUNT = int(os.environ.get("PAPERS_MONTH", "24"))
WARM = COUNT // 3  # by then fonts, templates and caches are there
GROWTH = 12.0 + 0.02 * COUNT  # MB; one paper held for each would be more than that, with its PDF and its layout
ISSUE = """
import random, sys
from shop.billing import services as billing
from shop.staff.models import Workshop
from tests import factories, money_builders
from tests.papers import builders
cleo, chance = factories.cleo(), random.Random(5)
builders.shop()
instrument = factories.instrument()
for _ in range(int(sys.argv[1])):
    lines = builders.lines(chance.randrange(1, 9), ("20", "7", "0"))
    billing.issue(money_builders.order(cleo, lines=lines, instrument=instrument), by=cleo)
"""
MAKE = """
import os, time
from shop.billing.journal import Month
from shop.handover import month
from shop.lib.dates import today
def resident():
    with open("/proc/self/statm") as file:
        return int(file.read().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 2**20
begun = time.monotonic()
month.make_missing(Month(today().year, today().month), say=lambda done, of: print(done, of, f"{resident():.1f}"))
print(f"{time.monotonic() - begun:.1f}")
"""


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="reads /proc")
def test_many_papers_take_no_more_memory_than_few(tmp_path, capsys):
    shop = ShopOnDisk(tmp_path)
    shop.patience = 60 + 5 * COUNT
    shop.say(ISSUE, COUNT)
    *said, seconds = shop.say(MAKE).split("\n")
    told = [line.split() for line in said]
    assert [(int(done), int(of)) for done, of, _ in told] == [(n, COUNT) for n in range(1, COUNT + 1)]
    resident = [float(one) for _, _, one in told]
    with capsys.disabled():
        sys.stdout.write(
            f"\n{COUNT} papers in {seconds} s: {resident[0]:.0f} MB after the first, {resident[WARM]:.0f} MB after "
            f"{WARM + 1}, {resident[-1]:.0f} MB after the last, {max(resident):.0f} MB at most\n"
        )
    assert max(resident) - resident[WARM] < GROWTH
    assert max(resident) < 260
