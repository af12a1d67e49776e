"""How long the server takes to save one reading, as a ratio to writing one row with nothing around it.

`saving.seconds_of` measures on whatever database is set, so that a large workshop can be asked, too.
"""

import pytest

from shop.orders.models import WorkOrder
from tests import factories
from tests import worksheet_builders as build
from tests.benchmarks.clock import show
from tests.benchmarks.saving import seconds_of

BUDGET = 5.0


@pytest.mark.django_db(transaction=True)
def test_saving_a_reading_takes_at_most_five_times_a_bare_write(ben):
    factories.workshop()
    sheet = build.worksheet(build.at_bench(factories.instrument(), ben), ben)
    build.store(sheet, ben, build.good_values())
    ours, bare = seconds_of(sheet, ben)
    show(
        f"saving a reading, {WorkOrder.objects.count()} orders on file: {ours * 1e3:.1f} ms, a bare view that writes "
        f"one row {bare * 1e3:.1f} ms: {ours / bare:.1f} times of {BUDGET:g}"
    )
    assert ours <= BUDGET * bare
