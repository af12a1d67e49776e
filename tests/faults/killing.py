"""Kills a working shop outright, again and again, and looks each time at what it has kept."""

import os
import random
import signal
import sqlite3
import threading
import time
import uuid
from collections import Counter as Tally
from contextlib import closing, suppress
from dataclasses import dataclass, field

from tests.faults.counter import Counter, NoAnswer
from tests.processes import ShopOnDisk
from tests.running_shop import RunningShop

WRITERS = 3
LONGEST_S = 1.5  # of work before something is killed
VICTIMS = ("web", "web", "worker", "all")
CAST = """
from tests import factories
factories.cleo()
"""


@dataclass
class Found:
    """What the rounds came to."""

    acknowledged: set = field(default_factory=set)
    unanswered: list = field(default_factory=list)  # keys of drafts that were sent and never answered
    trouble: list = field(default_factory=list)  # answers that were no answer
    killed: Tally = field(default_factory=Tally)
    orders: int = 0


def shop_in(folder):
    """A data folder in which Cleo may sign in, ready for a start without a demo."""
    ShopOnDisk(folder, on_server=False).say(CAST)
    return folder


def kill_rounds(folder, rounds, *, seed=1, say=lambda text: None):
    """Run `rounds` rounds of: write, kill something at a random moment, start again, check everything."""
    chance, found, cookies, done = random.Random(seed), Found(), {}, 0
    while done < rounds:
        with RunningShop(folder, "--no-demo") as shop:
            address = shop.wait_until_open()
            counter = Counter(address, cookies)
            cookies = cookies or counter.sign_in().cookies
            send_again(counter, found)
            victim = "worker"
            while victim == "worker" and done < rounds:  # which the shop starts again by itself
                victim = chance.choice(VICTIMS)
                one_round(shop, cookies, victim, chance.uniform(0.05, LONGEST_S), found)
                done += 1
        check(folder, found)
        say(f"{done} of {rounds} rounds, {found.orders} orders, {len(found.acknowledged)} of them acknowledged")
    return found


def send_again(counter, found):
    """What was never answered is sent once more, as a tablet does: it must be one order, whether or not it was kept."""
    while found.unanswered:
        found.acknowledged.add(counter.book_in(found.unanswered.pop()))


def one_round(shop, cookies, victim, after_s, found):
    """Let several people write, and kill `victim` after so many seconds."""
    stop = threading.Event()
    writers = [threading.Thread(target=write, args=(shop.address, cookies, stop, found)) for _ in range(WRITERS)]
    for writer in writers:
        writer.start()
    time.sleep(after_s)
    kill(shop, victim)
    found.killed[victim] += 1
    if victim == "worker":
        time.sleep(0.3)  # nobody at the counter notices
    stop.set()
    for writer in writers:
        writer.join()


def write(address, cookies, stop, found):
    counter = Counter(address, cookies)
    while not stop.is_set():
        key = uuid.uuid4()
        try:
            found.acknowledged.add(counter.book_in(key))
        except NoAnswer as error:
            if "was answered" in str(error):
                found.trouble.append(str(error))
            found.unanswered.append(key)
            return


def kill(shop, victim):
    """SIGKILL: no handler runs, nothing is flushed."""
    part = {"web": "shop.serve", "worker": "send_mail"}
    children = shop.children()
    if victim == "all":
        os.kill(shop.process.pid, signal.SIGKILL)
        for number in children:
            kill_if_there(number)
        return
    for number, command in children.items():
        if part[victim] in command:
            kill_if_there(number)


def kill_if_there(number):
    with suppress(ProcessLookupError):
        os.kill(number, signal.SIGKILL)


def check(folder, found):
    """No acknowledged order is lost, none is half there, no number is missing or double, and the file is sound."""
    assert found.trouble == []
    with closing(sqlite3.connect(folder / "shop.sqlite3", timeout=20)) as database:

        def ask(query):
            return database.execute(query).fetchall()

        assert ask("PRAGMA integrity_check") == [("ok",)]
        assert ask("PRAGMA foreign_key_check") == []
        numbers = [number for (number,) in ask("SELECT number FROM orders_workorder ORDER BY id")]
        found.orders = len(numbers)
        assert found.acknowledged <= set(numbers)
        assert sorted(int(number[3:]) for number in numbers) == list(range(1, len(numbers) + 1))
        assert ask("SELECT coalesce(max(last), 0) FROM staff_series WHERE key LIKE 'orders-%'") == [(len(numbers),)]
        parts = """
            SELECT
              (SELECT count(*) FROM orders_event e WHERE e.order_id = o.id AND e.what = 'booked_in'),
              (SELECT count(*) FROM orders_line l WHERE l.order_id = o.id),
              (SELECT count(*) FROM handover_outgoingmail m WHERE m.order_id = o.id AND m.name = 'receipt')
            FROM orders_workorder o
        """
        assert set(ask(parts)) <= {(1, 1, 1)}
        assert ask("SELECT count(*) FROM people_customer") == [(len(numbers),)]
