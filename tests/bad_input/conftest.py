"""Counts what was sent by all processes together, and says so at the end."""

import pytest

from tests import measured
from tests.bad_input.sent import SENT

ENOUGH_TO_KEEP = 20_000  # a run of this size is worth a file of its own


def pytest_sessionfinish(session):
    if hasattr(session.config, "workeroutput"):  # one of several processes: the first one adds them up
        session.config.workeroutput["bad_inputs"] = dict(SENT)


@pytest.hookimpl(optionalhook=True)
def pytest_testnodedown(node):
    SENT.update(getattr(node, "workeroutput", {}).get("bad_inputs", {}))


def pytest_terminal_summary(terminalreporter):
    if SENT:
        terminalreporter.write_line(f"{SENT.total()} bad inputs sent to {len(SENT)} addresses")
    if SENT.total() >= ENOUGH_TO_KEEP:
        failed = [one.nodeid for one in terminalreporter.stats.get("failed", [])]
        measured.keep("bad_inputs", sent=SENT.total(), addresses=len(SENT), failed=failed)
