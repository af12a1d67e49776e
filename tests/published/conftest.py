"""Settings of the published checks: no database and no files."""

import sys

import pytest


@pytest.fixture(autouse=True)
def own_files():
    """The numbers keep no files: the folder that other rooms' tests get is not made."""


@pytest.fixture
def show(capsys):
    """Print a table past pytest's capture, so that it is seen on every run."""

    def printed(title, *lines):
        with capsys.disabled():
            sys.stdout.write("\n".join(["", title, *(f"  {line}" for line in lines), ""]))

    return printed
