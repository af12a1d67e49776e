"""`python -m tests.load.pages`: every list and every search in the workshop that is set, beside a bare Django view.

Prints how many questions each page asks of the database, its median, and how many bare views that is. The bare view is
Django as `startproject` makes it, answering a signed-in person with a list over an empty table, by the same client in
the same process; a framed one is that list behind the workshop's own middleware, in the head and foot of its pages.
Other pages are opened in between, so that none is measured alone in the processor's caches.
"""

import argparse
import os
import statistics
import time

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
django.setup()

from django.db import connection  # noqa: E402 (all of it needs the settings)
from django.test import Client  # noqa: E402
from django.test.utils import CaptureQueriesContext, override_settings  # noqa: E402

from shop.billing.models import Invoice  # noqa: E402
from shop.orders.models import WorkOrder  # noqa: E402
from shop.people.models import Customer  # noqa: E402
from shop.serve import settle  # noqa: E402
from shop.staff.models import Person  # noqa: E402
from tests.benchmarks.clock import show  # noqa: E402
from tests.load import bare_list  # noqa: E402

MOST_QUERIES, MOST_RATIO = 12, 4
HERE = "127.0.0.1"


def remembered():
    """What somebody may remember of people, instruments and papers that are there."""
    who = Customer.objects.exclude(phone_digits="").order_by("pk")[Customer.objects.count() // 8]
    order = WorkOrder.objects.select_related("instrument").order_by("pk")[WorkOrder.objects.count() // 2]
    invoice = Invoice.objects.filter(number__isnull=False).order_by("pk")[Invoice.objects.count() // 2]
    first, last = who.name.split()[0], who.name.split()[-1]
    digits = who.phone_digits
    return {
        "a surname": last, "part of a surname": last[1:7], "a first name, of thousands": first.lower(),
        "both, the other way round": f"{last} {first}", "two letters": last[:2],
        "telephone, otherwise grouped": f"0{digits[2:5]} {digits[5:8]}-{digits[8:]}", "its last six": digits[-6:],
        "part of an e-mail": who.email.split("@")[0][-9:],
        "a serial, without its dash": order.instrument.serial.replace("-", ""),
        "part of a serial": order.instrument.serial[-4:], "a tag": order.number, "a tag's beginning": order.number[:5],
        "a tag's count": order.number[3:], "an invoice": invoice.number, "an invoice's beginning": invoice.number[:6],
        "nothing there is": "zzyzx qqq", "more than two hundred thousand have": "example",
    }  # fmt: skip


def paths():
    """{what it is: its address}."""
    words = remembered()
    found = {
        "counter": "/counter/", "office": "/office/", "bench": "/bench/", "calendar": "/calendar/",
        "orders, open": "/orders/", "orders, all": "/orders/?show=all", "orders, page 20": "/orders/?show=all&page=20",
        "orders, past the last page": "/orders/?show=all&page=99999", "customers": "/customers/",
        "customers, newest": "/customers/?sort=newest", "customers, page 25": "/customers/?page=25",
        "invoices": "/invoices/", "invoices, page 25": "/invoices/?page=25", "invoices of a month":
        "/invoices/?first=2024-03-01&last=2024-03-31", "invoices of ten years": "/invoices/?first=2015-01-01",
        "reminders": "/invoices/reminders/", "month": "/invoices/months/2024/3/",
        "mail": "/mail/", "mail, page 25": "/mail/?page=25", "mail, failed": "/mail/?state=failed",
        "mail, sent": "/mail/?state=sent", "record": "/office/record/", "record, money": "/office/record/?kind=money",
        "record, words": "/office/record/?q=exported",
        "record, words not there": "/office/record/?q=zzyzx",
        "shelf": "/stock/", "shelf, low": "/stock/?show=low", "reorder": "/stock/reorder/", "prices": "/prices/",
        "staff": "/office/staff/", "health": "/office/health/", "profiles": "/office/profiles/",
        "figures, a year": "/figures/", "figures, five years": "/figures/?months=60", "data": "/office/data/",
    }  # fmt: skip
    for lists, name, addresses in (
        ("late week waiting ready not-started bench", "orders, {}", "/orders/?show={}"),
        ("oldest promised since customer number", "orders, all by {}", "/orders/?show=all&sort={}"),
        ("collected declined on_bench", "orders, {}", "/orders/?show=all&state={}"),
        ("unpaid overdue draft paid credited", "invoices, {}", "/invoices/?state={}"),
    ):
        found |= {name.format(one): addresses.format(one) for one in lists.split()}
    for place, rooms in (
        ("find", "/find/?q="), ("counter's box", "/counter/found/?q="), ("orders", "/orders/?q="),
        ("customers", "/customers/?q="), ("invoices", "/invoices/?q="), ("mail", "/mail/?q="),
    ):  # fmt: skip
        found |= {f"{place}: {said}": rooms + text.replace(" ", "+") for said, text in words.items()}
    order = WorkOrder.objects.order_by("-pk")[300]
    return found | {
        "an order": f"/orders/{order.number}/", "an order's money": f"/orders/{order.number}/money/",
        "a customer": f"/customers/{order.customer_id}/", "an instrument": f"/instruments/{order.instrument_id}/",
    }  # fmt: skip


def owner_client():
    client = Client(raise_request_exception=False, SERVER_NAME=HERE)
    client.force_login(Person.objects.filter(role="owner", is_active=True).first())
    session = client.session
    session["second"] = True
    session.save()
    return client


def taken(client, path):
    """(seconds by the clock, seconds of the processor): on a busy machine the second says more, but not on a server."""
    began, worked = time.perf_counter(), time.process_time()
    client.get(path)
    return time.perf_counter() - began, time.process_time() - worked


def measure(rounds, only=""):
    """([(name, status, queries, median in s)] of every page, the bare view's median, the framed one's)."""
    client, asked = owner_client(), {name: path for name, path in paths().items() if only in name}
    queries, status, seconds, bare, framed = {}, {}, {name: [] for name in asked}, [], []
    for name, path in asked.items():
        client.get(path)
        with CaptureQueriesContext(connection) as caught:
            status[name] = client.get(path).status_code
        queries[name] = len(caught)
    settle()  # as the web server does once it has started
    with bare_list.there() as (startproject, workshop):
        for _ in range(rounds):
            client.get("/")  # other settings were in force: what Django remembers by them is there again
            for name, path in asked.items():
                seconds[name].append(taken(client, path))
            bare += times("/", bare_list.signed_in, startproject)
            framed += times(f"/{bare_list.FRAMED}", owner_client, workshop)
    rows = [(name, status[name], queries[name], *medians(seconds[name])) for name in asked]
    return rows, medians(bare), medians(framed)


def times(path, signed_in, settings, count=20):
    with override_settings(**settings):
        client = signed_in()
        assert client.get(path).status_code == 200
        return [taken(client, path) for _ in range(count)]


def medians(pairs):
    return [statistics.median(column) for column in zip(*pairs, strict=True)]


def main():
    parser = argparse.ArgumentParser(prog="python -m tests.load.pages", description=__doc__)
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--only", default="", help="pages whose name contains this")
    asked = parser.parse_args()
    load = os.getloadavg()[0]
    rows, (bare, bare_work), (framed, _) = measure(asked.rounds, asked.only)
    show(f"{connection.vendor}; bare view {1000 * bare:.2f} ms, of the processor {1000 * bare_work:.2f} ms; framed "
         f"{1000 * framed:.2f} ms; load {load:.1f} to {os.getloadavg()[0]:.1f}")  # fmt: skip
    for said, one in (("bare", bare), ("framed", framed)):
        within = sum(median <= MOST_RATIO * one for _, _, _, median, _ in rows)
        ratios = sorted(median / one for _, _, _, median, _ in rows)
        show(f"{said}: {within} of {len(rows)} within {MOST_RATIO} times; middle {statistics.median(ratios):.1f}, "
             f"nine in ten {ratios[9 * len(ratios) // 10]:.1f}, at most {ratios[-1]:.1f}")  # fmt: skip
    for name, status, queries, median, work in sorted(rows, key=lambda row: -row[3]):
        missed = "" if queries <= MOST_QUERIES and median <= MOST_RATIO * bare and status < 400 else "  <"
        show(f"{name:54} {status} {queries:>3} queries {1000 * median:>8.1f} ms {median / bare:>7.1f}; "
             f"processor {1000 * work:>8.1f} ms {work / bare_work:>7.1f}{missed}")  # fmt: skip


if __name__ == "__main__":
    main()
