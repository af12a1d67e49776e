"""A few rounds of what `python3 -m tests faults` does two hundred times."""

from tests.faults.killing import kill_rounds, shop_in


def test_nothing_acknowledged_is_lost(tmp_path):
    found = kill_rounds(shop_in(tmp_path), 3, seed=3)
    assert sum(found.killed.values()) == 3
    assert found.acknowledged
