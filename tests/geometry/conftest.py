"""Settings of the numeric tests: no database, no files, and the same examples on every run."""

import pytest
from hypothesis import HealthCheck, settings

settings.register_profile(
    "geometry", max_examples=60, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("geometry")


@pytest.fixture(autouse=True)
def own_files():
    """The numbers keep no files: the folder that other rooms' tests get is not made."""
