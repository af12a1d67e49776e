"""Who may see and touch money: counter and owner; the bench does not."""

import pytest
from django.urls import reverse

from shop.billing import services
from tests import money_builders as build

# (method, URL name, what it is about, who may)
COUNTER, OWNER = ("cleo", "ada"), ("ada",)
TABLE = [
    ("get", "invoices", None, COUNTER),
    ("get", "invoices-csv", None, OWNER),
    ("get", "invoice", "invoice", COUNTER),
    ("get", "order-money", "order", COUNTER),
    ("get", "invoice-draft", "order", COUNTER),
    ("post", "discount", "order", COUNTER),
    ("post", "money-receive", "order", COUNTER),
    ("post", "money-back", "order", COUNTER),
    ("post", "payment-undo", "payment", COUNTER),
]


@pytest.fixture
def things(cleo):
    order = build.order(cleo)
    payment = services.receive(order, amount=5, kind="cash", key=build.key(), by=cleo)
    issued = services.issue(build.order(cleo, instrument=order.instrument), by=cleo)
    return {None: [], "order": [order.number], "payment": [payment.pk], "invoice": [issued.pk]}


@pytest.mark.parametrize(("method", "name", "about", "who"), TABLE, ids=[row[1] for row in TABLE])
def test_each_role_gets_what_the_table_says(method, name, about, who, things, ada, ben, cleo, client):
    address = reverse(name, args=things[about])
    for person in (ada, ben, cleo):
        client.force_login(person)
        status = getattr(client, method)(address).status_code
        assert (status != 403) is (person.username in who), (person, status)


@pytest.mark.parametrize(("method", "name", "about", "who"), TABLE, ids=[row[1] for row in TABLE])
def test_nobody_gets_in_without_signing_in(method, name, about, who, things, client):
    answer = getattr(client, method)(reverse(name, args=things[about]))
    assert answer.status_code == 302
    assert answer["Location"].startswith(reverse("sign-in"))


@pytest.mark.parametrize(("method", "name", "about", "who"), TABLE, ids=[row[1] for row in TABLE])
def test_the_other_method_is_not_taken(method, name, about, who, things, ada, as_person):
    other = "post" if method == "get" else "get"
    assert getattr(as_person(ada), other)(reverse(name, args=things[about])).status_code == 405


@pytest.mark.parametrize(
    ("name", "args"), [("invoice", [999]), ("order-money", ["26-9999"]), ("invoice-draft", ["26-9999"])]
)
def test_what_is_not_there_is_not_found(name, args, cleo, as_person):
    assert as_person(cleo).get(reverse(name, args=args)).status_code == 404


def test_a_draft_has_no_page_of_its_own(cleo, as_person):
    draft = services.set_discount(build.order(cleo), percent=5, reason="friend", by=cleo)
    assert as_person(cleo).get(reverse("invoice", args=[draft.pk])).status_code == 404
