"""How many worksheets of every bridge a second are judged, in one pass over arrays and one by one."""

from shop.worksheets.evaluation import evaluate_all, evaluate_sheet
from tests.benchmarks.clock import seconds, show
from tests.worksheets.test_together import mixed

SHEETS = 4  # of each bridge and number of strings


def test_one_pass_is_faster_than_one_by_one():
    many = mixed(SHEETS, 7)
    together = seconds(lambda: evaluate_all(many), 3)
    alone = seconds(lambda: [evaluate_sheet(one) for one in many], 3)
    show(
        f"re-check: {len(many) / together:.0f} worksheets a second in one pass, {len(many) / alone:.0f} one by one: "
        f"{alone / together:.2f} times"
    )
    assert together < alone
