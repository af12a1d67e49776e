"""Being asked to end is heard at whatever moment it comes."""

import os
import signal
import subprocess
import sys
import time

import pytest

from shop.ground import start, steps
from shop.ground.told import ToldToStop
from tests.running_shop import ROOT


@pytest.fixture(autouse=True)
def signals_as_before():
    before = {number: signal.getsignal(number) for number in start.ASKED_BY}
    yield
    for number, handler in before.items():
        signal.signal(number, handler)


class AskedToEnd:
    """A web server during a look at which somebody asks us to end."""

    def __init__(self):
        self.looks = 0

    def has_ended(self):
        signal.raise_signal(signal.SIGTERM)  # to this very thread: where tests run, there are others
        self.looks += 1
        return False

    def look_after(self):
        self.looks += 1


def test_a_look_at_the_children_is_never_broken_off():
    start.listen_to_signals()
    child = AskedToEnd()
    with pytest.raises(start.Stopped):
        start.watch(child, child)
    assert child.looks == 2


def test_a_child_started_meanwhile_can_be_stopped():
    with start.undisturbed():
        child = steps.start([sys.executable, "-c", "import time; print('up', flush=True); time.sleep(60)"], stdout=-1)
    assert child.stdout.readline()
    child.terminate()
    assert child.wait(10) == -signal.SIGTERM
    child.stdout.close()


def test_a_worker_waits_until_it_is_told():
    told = ToldToStop(signal.SIGTERM)
    assert not told()
    began = time.monotonic()
    assert not told.within(0.05)
    assert time.monotonic() - began >= 0.05
    os.kill(os.getpid(), signal.SIGTERM)
    assert told()
    assert told.within(60)
    assert told()
    assert told.within(60), "it is still known at the next look"


# A worker that is told over and over, at every point of its looking whether it was.
TOLD_OVER_AND_OVER = """
import signal
from shop.ground.told import ToldToStop
for _ in range(40):
    told = ToldToStop(signal.SIGALRM)
    signal.setitimer(signal.ITIMER_REAL, 0.0005, 0.0001)
    looks = 0
    while looks < 300:
        looks += told.within(0)
signal.setitimer(signal.ITIMER_REAL, 0)
"""


def test_being_told_in_the_middle_of_a_look_holds_nothing_up():
    """With an event instead of the queue this stands still for ever."""
    subprocess.run([sys.executable, "-c", TOLD_OVER_AND_OVER], cwd=ROOT, timeout=60, check=True)
