"""The people of a busy shop: each knows what there is to ask for, and asks any of the servers."""

import itertools
import random
import threading
import uuid
from urllib.parse import urlsplit

from shop.figures.demo import cast
from tests.faults.counter import Counter, NoAnswer

PAPERS = ("tag", "receipt", "draft", "invoice")
FILTERED = (
    "/orders/?show=late", "/orders/?show=week&sort=promised", "/orders/?show=waiting", "/orders/?show=ready&sort=since",
    "/orders/?show=bench&sort=customer", "/orders/?show=all&sort=-booked&page=20", "/orders/?show=all&state=collected",
    "/invoices/?state=overdue", "/invoices/?state=unpaid", "/customers/?sort=newest", "/stock/?show=low",
    "/mail/?state=failed", "/instruments/", "/calendar/",
)  # fmt: skip


class People:
    def __init__(self, addresses, known):
        self.chance, self.lock = random.Random(2), threading.Lock()
        self.addresses = itertools.cycle(addresses)
        self.cookies = Counter(addresses[0]).sign_in("ilse", cast.PASSWORD).cookies
        self.known = known
        self.checked = list(known["checked"])  # each is made ready once

    def do(self, kind):
        with self.lock:
            counter = Counter(next(self.addresses), self.cookies)
        if kind == "reading":
            reading = {"client_id": str(uuid.uuid4()), "stage": "bench", "key": "relief", "raw": "0.2"}
            _need(200, counter.ask("POST", f"/bench/{self._one('sheets')}/relief/save/", reading))
        elif kind == "book_in":
            counter.book_in()
        elif kind == "ready":
            _need(302, counter.ask("POST", f"/orders/{self.checked.pop()}/ready/", {}))
        elif kind in PAPERS:
            self._open_paper(counter, self._path(kind))
        else:
            _need(200, counter.ask("GET", self._path(kind)))

    def _open_paper(self, counter, path):
        answer = counter.ask("GET", path)
        if answer[0] == 302:  # to the paper as it is kept
            answer = counter.ask("GET", urlsplit(answer[1]["Location"]).path)
        _need(200, answer)
        if not answer[2].startswith("%PDF"):
            raise NoAnswer(f"{path} is no paper")

    def _path(self, kind):
        if kind == "search":
            return f"/find/?q={self._one('names').split()[-1][:6].lower()}"
        if kind == "filter":
            return self.chance.choice(FILTERED)
        if kind == "order":
            return f"/orders/{self._one('orders')}/"
        if kind == "step":
            return f"/bench/{self._one('sheets')}/relief/"
        return {
            "list": lambda: "/orders/",
            "bench": lambda: "/bench/",
            "tag": lambda: f"/orders/{self._one('orders')}/tag.pdf",
            "receipt": lambda: f"/orders/{self._one('orders')}/receipt.pdf",
            "draft": lambda: f"/orders/{self._one('unbilled')}/money/draft.pdf",
            "invoice": lambda: f"/invoices/{self._one('invoices')}/paper.pdf",
        }[kind]()

    def _one(self, what):
        return self.chance.choice(self.known[what])


def _need(status, answer):
    if answer[0] != status:
        raise NoAnswer(f"answered {answer[0]}")
