"""Kills a working shop outright, again and again, and looks each time at what it has kept."""

import os
import random
import signal
import sqlite3
import threading
import time
import uuid
from collections import Counter as Tally
from contextlib import closing, contextmanager, suppress
from dataclasses import dataclass, field

import psycopg

from tests.faults.counter import Counter, NoAnswer
from tests.processes import ShopOnDisk
from tests.running_shop import RunningShop

WRITERS = 3
LONGEST_S = 1.5  # of work before something is killed
VICTIMS = ("web", "web", "worker", "all")
ON_SERVER = (*VICTIMS, "server")  # the database, too
STAYS_OPEN = ("worker", "server")  # after these the shop goes on by itself
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


def shop_in(folder, server=None):
    """A data folder in which Cleo may sign in, ready for a start without a demo; on a PrivateServer if one is given."""
    shop = ShopOnDisk(folder, on_server=server.url if server else False)
    if server:
        assert shop.manage("upgrade").returncode == 0
    shop.say(CAST)
    return folder


def kill_rounds(folder, rounds, *, server=None, seed=1, say=lambda text: None):
    """Run `rounds` rounds of: write, kill something at a random moment, start again, check everything."""
    chance, found, cookies, done = random.Random(seed), Found(), {}, 0
    environment = {"DATABASE_URL": server.url} if server else {}
    while done < rounds:
        with RunningShop(folder, "--no-demo", **environment) as shop:
            address = shop.wait_until_open()
            counter = Counter(address, cookies)
            cookies = cookies or counter.sign_in().cookies
            send_again(counter, found)
            victim = STAYS_OPEN[0]
            while victim in STAYS_OPEN and done < rounds:
                victim = chance.choice(ON_SERVER if server else VICTIMS)
                one_round(shop, server, cookies, victim, chance.uniform(0.05, LONGEST_S), found)
                done += 1
        with asking(folder, server) as ask:
            check(ask, found)
        say(f"{done} of {rounds} rounds, {found.orders} orders, {len(found.acknowledged)} of them acknowledged")
    return found


def send_again(counter, found):
    """What was never answered is sent once more, as a tablet does: it must be one order, whether or not it was kept."""
    while found.unanswered:
        found.acknowledged.add(counter.book_in(found.unanswered.pop()))


def one_round(shop, server, cookies, victim, after_s, found):
    """Let several people write, and kill `victim` after so many seconds."""
    stop = threading.Event()
    writers = [threading.Thread(target=write, args=(shop.address, cookies, stop, found)) for _ in range(WRITERS)]
    for writer in writers:
        writer.start()
    time.sleep(after_s)
    if victim == "server":
        server.stop(signal.SIGQUIT)  # as if the power had gone: what it acknowledged is read from its log again
        server.start()
    else:
        kill(shop, victim)
    found.killed[victim] += 1
    if victim == "worker":
        time.sleep(0.3)  # nobody at the counter notices
    stop.set()
    for writer in writers:
        writer.join()
    if victim == "server":  # the page that says so is as good as none
        found.trouble = [one for one in found.trouble if "was answered 5" not in one]


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


@contextmanager
def asking(folder, server):
    """A function that answers a query with rows, on the file or on the server; the file is looked through first."""
    if server:
        with psycopg.connect(server.url) as database:
            yield lambda query: database.execute(query).fetchall()
        return
    with closing(sqlite3.connect(folder / "shop.sqlite3", timeout=20)) as database:

        def ask(query):
            return database.execute(query).fetchall()

        assert ask("PRAGMA integrity_check") == [("ok",)]
        assert ask("PRAGMA foreign_key_check") == []
        yield ask


def check(ask, found):
    """No acknowledged order is lost, none is half there, and no number is missing or double."""
    assert found.trouble == []
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
