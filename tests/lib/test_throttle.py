"""Growing waits for whoever guesses."""

import pytest
from django.test import RequestFactory

from shop.lib.throttle import Throttle, network_of, said
from tests.processes import ShopOnDisk

pytestmark = pytest.mark.django_db
GUESSES = Throttle("test", free=3, first_wait_s=2, longest_wait_s=10, forget_after_s=3600)


def test_the_first_tries_are_free_then_waits_grow_to_their_limit():
    now, waits = 1000.0, []
    for _ in range(9):
        waits.append(GUESSES.wait("ben", now=now))
        now += waits[-1]
        assert GUESSES.take("ben", now=now) == 0
    assert waits == [0, 0, 0, 2, 4, 8, 10, 10, 10]


def test_a_try_made_too_soon_says_how_long_and_does_not_count():
    for _ in range(3):
        GUESSES.take("ben", now=1000.0)
    assert [GUESSES.take("ben", now=1001.5) for _ in range(5)] == [0.5] * 5
    assert GUESSES.take("ben", now=1002.0) == 0


def test_one_account_does_not_slow_another():
    for _ in range(4):
        GUESSES.take("ben", "10.0.0.1", now=1000.0)
    assert GUESSES.wait("ben", "10.0.0.1", now=1000.0) > 0
    assert GUESSES.wait("ben", "10.0.0.2", now=1000.0) == GUESSES.wait("ada", "10.0.0.1", now=1000.0) == 0


def test_the_right_answer_begins_anew():
    for _ in range(4):
        GUESSES.take("ben", now=1000.0)
    GUESSES.forget("ben")
    assert [GUESSES.take("ben", now=1000.0) for _ in range(3)] == [0, 0, 0]


def test_a_clock_put_back_makes_no_wait_longer():
    for _ in range(3):
        GUESSES.take("ben", now=1_000_000.0)
    assert GUESSES.wait("ben", now=1000.0) == 2


def test_anything_may_be_asked_about():
    assert GUESSES.take("\ud800\0 \U0001f3b8" * 999, None) == 0


@pytest.mark.parametrize(
    ("address", "network"),
    [("192.0.2.7", "192.0.2.7"), ("::ffff:192.0.2.7", "192.0.2.7"), ("2001:db8:1:2:3::4", "2001:db8:1:2::/64"),
     ("", ""), ("unix:", "unix:")],
)  # fmt: skip
def test_a_network_is_an_address_or_the_half_of_one(address, network):
    assert network_of(RequestFactory().get("/", REMOTE_ADDR=address)) == network


@pytest.mark.parametrize(("seconds", "words"), [(0.2, "1 second"), (7.5, "8 seconds"), (120, "2 minutes")])
def test_waits_are_said_in_words(seconds, words):
    assert said(seconds) == words


def test_guesses_sent_at_once_to_several_workers_are_counted_each(tmp_path):
    code = """
from shop.lib.throttle import Throttle
one = Throttle("workers", free=7, first_wait_s=600, longest_wait_s=600)
print(sum(one.take("ben") == 0 for _ in range(6)))
"""
    assert sum(map(int, ShopOnDisk(tmp_path).run(*[(code,)] * 4))) == 7
