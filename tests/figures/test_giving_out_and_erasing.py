"""Everything given out, one person's data given out, and a person erased but for what must stay."""

import csv
import io
import random
import string
import zipfile

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from shop.billing import services as billing
from shop.billing.models import Invoice
from shop.figures.carrying import erasing, exporting
from shop.orders import services as orders
from shop.orders.models import WorkOrder
from shop.orders.states import State
from shop.people.models import Customer
from tests import factories, money_builders

pytestmark = pytest.mark.django_db


def opened(answer):
    return zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content)))


def table(archive, name):
    return list(csv.DictReader(io.StringIO(archive.read(f"tables/{name}.csv").decode("utf-8-sig"))))


@pytest.fixture
def mara(ada):
    """A customer with one order that is over and paid."""
    order = money_builders.order(ada, complaint="Mara Fell says it buzzes.", bench_note="Ring +44 1632 960123.")
    billing.issue(order, by=ada)
    billing.receive(order, amount=Invoice.objects.get().total, kind="cash", key=money_builders.key(), by=ada)
    orders.add_note(order, "Mara Fell rang, mara@example.com.", by=ada)
    WorkOrder.objects.update(state=State.COLLECTED)
    return order.customer


def test_everything_is_in_the_archive_but_no_way_in(as_person, ada, mara):
    factories.customer(name="=cmd|' /C calc'!A0", email="", phone="")
    archive = opened(as_person(ada).get("/office/data/everything.zip"))
    names = {row["name"] for row in table(archive, "people-customer")}
    assert {"Mara Fell", "'=cmd|' /C calc'!A0"} <= names
    assert table(archive, "orders-workorder")
    assert table(archive, "billing-invoice")
    whole = b"".join(archive.read(name) for name in archive.namelist())
    assert ada.password.encode() not in whole


def test_it_is_sent_while_it_is_made(as_person, ada):
    """Of a large workshop it takes minutes: a proxy would give up, and memory would fill."""
    for number in range(100):
        factories.customer(notes="".join(random.Random(number).choices(string.ascii_letters, k=1500)))
    with CaptureQueriesContext(connection) as asked:
        pieces = as_person(ada).get("/office/data/everything.zip").streaming_content
        first = next(iter(pieces))
        so_far = len(asked)
        rest = b"".join(pieces)
        assert so_far < len(asked)
    assert len(zipfile.ZipFile(io.BytesIO(first + rest)).namelist()) > 30


def test_a_persons_data_holds_only_theirs(as_person, ada, mara):
    factories.customer(name="Somebody Else", email="else@example.com")
    archive = opened(as_person(ada).get(f"/customers/{mara.pk}/data/everything.zip"))
    assert [row["name"] for row in table(archive, "people-customer")] == ["Mara Fell"]
    assert len(table(archive, "orders-event")) >= 1
    assert b"Somebody Else" not in b"".join(archive.read(name) for name in archive.namelist())


def test_a_file_name_that_leaves_the_archive_is_not_followed(ada, mara):
    WorkOrder.objects.update(signature="../../etc/passwd")
    with zipfile.ZipFile(io.BytesIO(b"".join(exporting.of_person(mara)))) as archive:
        assert not [name for name in archive.namelist() if "passwd" in name]


def test_an_erased_person_leaves_the_books_and_nothing_else(ada, mara):
    snapshot = Invoice.objects.get().snapshot
    left = erasing.erase(mara, by=ada)
    left.refresh_from_db()
    assert (left.email, left.phone, left.address, left.mail_agreed) == ("", "", "", False)
    assert "Mara" not in left.name + left.search_key
    order = WorkOrder.objects.get()
    said = " ".join([order.complaint, order.bench_note, *order.events.values_list("text", flat=True)])
    assert "Mara" not in said
    assert "example.com" not in said
    assert Invoice.objects.get().snapshot == snapshot  # an issued invoice is kept as it was issued
    assert order.events.filter(what="erased").exists()


def test_who_has_nothing_goes_whole(ada):
    who = factories.customer()
    factories.instrument(who)
    again = Customer.objects.get(pk=who.pk)
    assert erasing.erase(who, by=ada) is None
    assert erasing.erase(again, by=ada) is None  # somebody else was faster
    assert not Customer.objects.exists()


def test_a_second_owner_without_orders_leaves_the_instrument_to_the_firsts(ada, mara):
    order = WorkOrder.objects.get(customer=mara)
    order.instrument.customer = factories.customer(name="Osei Odell")
    order.instrument.save()
    left = erasing.erase(order.instrument.customer, by=ada)
    assert left.name == f"Erased customer {left.pk}"
    assert WorkOrder.objects.get().instrument.customer == left


def test_an_open_order_or_an_unpaid_invoice_is_in_the_way(ada):
    order = money_builders.order(ada)
    billing.issue(order, by=ada)
    assert len(erasing.holding_of(order.customer).in_the_way) == 2
    with pytest.raises(erasing.NotAllowed):
        erasing.erase(order.customer, by=ada)


def test_the_page_asks_for_the_name_and_sends_to_local_law(as_person, ada, mara):
    client = as_person(ada)
    page = client.get(f"/customers/{mara.pk}/data/").text
    assert "licensed adviser" in page
    assert client.post(f"/customers/{mara.pk}/data/erase/", {"name": "Mara"}).status_code == 422
    assert client.post(f"/customers/{mara.pk}/data/erase/", {"name": "Mara Fell"}).status_code == 302
    assert not Customer.objects.filter(name="Mara Fell").exists()


def test_only_the_owner(as_person, ben, mara):
    client = as_person(ben)
    for path in (f"/customers/{mara.pk}/data/", "/office/data/", "/office/data/everything.zip"):
        assert client.get(path).status_code == 403
