"""Two branches for every test in this folder that asks for them."""

import pytest

from tests import branch_builders


@pytest.fixture
def two(ada, cleo, ben):
    return branch_builders.two(ada, cleo, ben)
