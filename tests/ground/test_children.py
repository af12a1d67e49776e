"""The mail worker is started again when it ends, each time after a longer wait."""

import os
import sys

import pytest

from shop.ground.children import Child, Steady
from tests.running_shop import RunningShop


class Mayfly:
    """A child that has always ended already."""

    title = "The mail worker"

    def __init__(self):
        self.starts = 0
        self.is_over = True

    def start(self):
        self.starts += 1

    def has_ended(self):
        return self.is_over

    def last_words(self):
        return "exit code 1"


@pytest.fixture
def clock():
    class Clock:
        now = 0.0

        def __call__(self):
            return self.now

    return Clock()


def waits(steady, clock, times):
    """How long it waits before each of the next starts."""
    found = []
    for _ in range(times):
        steady.look_after()
        began, starts = clock.now, steady.child.starts
        while steady.child.starts == starts:
            clock.now += 1
            steady.look_after()
        found.append(clock.now - began)
    return found


def test_the_waits_grow_up_to_a_minute(clock):
    assert waits(Steady(Mayfly(), clock), clock, 8) == [1, 2, 4, 8, 16, 32, 60, 60]


def test_a_worker_that_ran_for_a_while_is_started_again_soon(clock):
    steady = Steady(Mayfly(), clock)
    waits(steady, clock, 5)
    steady.child.is_over = False
    clock.now += 100
    steady.look_after()
    steady.child.is_over = True
    assert waits(steady, clock, 1) == [1]


def test_a_childs_last_words_are_its_own_and_not_an_earlier_ones(tmp_path):
    log = tmp_path / "logs" / "a.log"
    loud = Child("A", [sys.executable, "-c", "raise ValueError('Too bad.')"], log, dict(os.environ))
    loud.start()
    loud.process.wait()
    assert loud.last_words() == "Too bad (exit code 1)"
    silent = Child("A", [sys.executable, "-c", "raise SystemExit(3)"], log, dict(os.environ))
    silent.start()
    silent.process.wait()
    assert silent.last_words() == "exit code 3"


def test_a_long_log_is_begun_anew(tmp_path, monkeypatch):
    monkeypatch.setattr("shop.ground.children.KEEP_BYTES", 10)
    log = tmp_path / "a.log"
    log.write_text("x" * 11)
    child = Child("A", [sys.executable, "-c", "print('new')"], log, dict(os.environ))
    child.start()
    child.process.wait()
    assert (log.read_text(), (tmp_path / "a.old.log").read_text()) == ("new\n", "x" * 11)


def test_a_killed_mail_worker_comes_back(data):
    with RunningShop(data) as shop:
        shop.wait_until_open()
        (worker,) = (number for number, command in shop.children().items() if "send_mail" in command)
        os.kill(worker, 9)
        shop.wait_until_said("The mail worker stopped: ")
        assert "It is started again in 1 s." in shop.said
        assert shop.get()[0] == 200
