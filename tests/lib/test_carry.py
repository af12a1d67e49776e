"""Rows are compared by values on which both databases agree."""

import pytest

from shop.lib.carry import canonical


@pytest.mark.parametrize(("sent", "arrived"), [(-0.0, 0), (1.0, 1), ({"crown": [-0.0, 2]}, {"crown": [0.0, 2.0]})])
def test_what_jsonb_writes_otherwise_is_the_same_value(sent, arrived):
    assert canonical([sent]) == canonical([arrived])


@pytest.mark.parametrize(("sent", "arrived"), [(0.1, 0.2), (-1.0, 1.0), ("-0.0", "0.0"), (0, None), (0, False)])
def test_another_value_is_another(sent, arrived):
    assert canonical([sent]) != canonical([arrived])
