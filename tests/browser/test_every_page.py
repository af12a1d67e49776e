"""Every page of a workshop full of work, in a real browser: accessible, valid, inside its window, day and dim."""

import html5lib
import pytest
from django.test import override_settings

from shop.billing.models import Invoice
from shop.figures.demo import cast
from shop.figures.demo.load import load
from shop.handover.models import OutgoingMail
from shop.instruments.models import Instrument
from shop.orders import services
from shop.orders.models import WorkOrder
from shop.orders.states import State
from shop.people.models import Customer
from shop.staff import keeping
from shop.staff.models import Person
from shop.stock.models import PriceItem, Supplier
from shop.worksheets.models import TargetProfile, Worksheet
from tests import no_papers
from tests.accessible import COLOURS, RULES, violations
from tests.every_address import pages

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
WINDOWS = [(1280, 900), (1024, 768), (390, 844)]
PARTS = 4  # so that processes share them; of two they would leave each other none


@pytest.fixture
def full_shop(transactional_db, monkeypatch):
    """The demo's work and its owner. No page shows what is on a paper, and setting them all takes longest."""
    no_papers.instead(monkeypatch)
    with override_settings(MAIL_IS_LOCAL=True):
        load(orders=17, seed=5)
    return Person.objects.get(username=cast.STAFF[0][0], role="owner")


def things():
    """One of each, for the addresses that name one."""
    order = WorkOrder.objects.filter(state=State.READY).first()
    return {
        "number": order.number,
        "customer": order.customer_id,
        "instrument": Instrument.objects.filter(orders__worksheets__isnull=False).first().pk,
        "invoice": Invoice.objects.issued().first().pk,
        "mail": OutgoingMail.objects.first().pk,
        "sheet": Worksheet.objects.filter(signed_at=None).first().pk,
        "signed": Worksheet.objects.exclude(signed_at=None).first().pk,
        "person": Person.objects.first().pk,
        "profile": TargetProfile.objects.first().pk,
        "part": PriceItem.objects.on_shelf().first().pk,
        "token": services.token_of(services.link_for_mail(order, by=order.booked_by)),
        "supplier": Supplier.objects.first().pk,
        "view": keeping.keep(Person.objects.get(role="owner"), page="orders", query="show=late", name="Late").pk,
        "other-customer": Customer.objects.exclude(pk=order.customer_id).first().pk,
        "other-instrument": Instrument.objects.exclude(orders__worksheets__isnull=False).first().pk,
    }


def problems_of(page, path):
    """What is wrong with the page in every window, by day and dim, in words.

    The dim colours change colours alone, so only those are looked at again.
    """
    found, lights = [], [("light", "", RULES), ("dark", ", dim", COLOURS)]
    for width, height in WINDOWS:
        page.set_viewport_size({"width": width, "height": height})
        for scheme, words, rules in lights:
            light(page, scheme)
            where = f"{path} at {width}{words}"
            found += [f"{where}: {rule}: {element}" for rule, element in violations(page, rules)]
            wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
            found += [f"{where}: {wide} px too wide"] if wide > 0 else []
        lights.reverse()  # the next window begins in the light that is on
    return found


def light(page, scheme):
    page.emulate_media(color_scheme=scheme)
    page.wait_for_selector(f":root[data-light={'dim' if scheme == 'dark' else 'day'}]")


@pytest.mark.parametrize("part", range(PARTS))
def test_pages_are_valid_and_accessible_and_fit(full_shop, open_as, part):
    page = open_as(full_shop, "/office/", reduced_motion="reduce")
    found = []
    for path, content in pages(things(), part, PARTS):
        html5lib.HTMLParser(strict=True).parse(content)
        answer = page.goto(path)
        assert answer.status == 200, path
        found += problems_of(page, path)
    assert found == []
