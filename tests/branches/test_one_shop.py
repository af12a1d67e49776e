"""A workshop with one branch hears nothing of branches, and asks no more questions for them."""

import re

import pytest
from django.test import Client

from shop.staff.branches import open_branch
from shop.staff.models import Branch, Workshop
from tests import branch_builders, counter_builders, factories, no_papers, stock_builders
from tests.counting import queries_of
from tests.every_address import address_of, named_addresses

pytestmark = pytest.mark.django_db
SETTINGS = {"branches", "branch-new"}  # where an owner opens a second one


def test_no_page_says_the_word(ada, cleo, monkeypatch):
    no_papers.instead(monkeypatch)  # pages alone are read here
    order = counter_builders.booked(cleo)
    item = stock_builders.part(found=3, by=cleo)
    things = {"number": order.number, "customer": order.customer_id, "instrument": order.instrument_id, "part": item.pk,
              "price": item.pk, "person": cleo.pk}  # fmt: skip
    client, said = Client(), []
    client.force_login(ada)
    for name, arguments in named_addresses().items():
        if name in SETTINGS:
            continue
        answer = client.get(address_of(name, arguments, things))
        if answer.status_code == 200 and answer["Content-Type"].startswith("text/html"):
            text = re.sub(r"<[^>]*>", " ", answer.content.decode())  # what people read; addresses may say it
            said += [name] if re.search(r"\bbranch", text, re.I) else []
    assert said == []


def test_its_addresses_are_not_there(ada, client):
    client.force_login(ada)
    first = Branch.first()
    order = counter_builders.booked(ada)
    item = stock_builders.part(found=3, by=ada)
    assert client.get(f"/office/branches/{first.pk}/").status_code == 404
    assert client.post(f"/stock/{item.pk}/send-on/").status_code == 404
    assert client.post(f"/stock/{item.pk}/keep/").status_code == 404
    assert client.post(f"/orders/{order.number}/branch/", {"to": first.pk}).status_code == 422


@pytest.mark.parametrize(
    ("path", "most"),
    [("/orders/", 1), ("/office/", 1), ("/bench/", 1), ("/calendar/", 1), ("/invoices/", 1), ("/mail/", 1),
     ("/stock/", 2), ("/counter/", 1), ("/find/?q=Mara", 1)],
)  # fmt: skip
def test_a_second_branch_costs_its_people_a_question_or_two(ada, cleo, ben, client, path, most):
    """What they see is read once a page, and which branch is the first; with one branch not even that is asked."""
    counter_builders.booked(cleo)
    stock_builders.part(found=3, by=cleo)
    client.force_login(cleo)
    alone = queries_of(client, path)
    branch_builders.two(ada, cleo, ben)
    assert queries_of(client, path) - alone <= most


def test_nobody_is_asked_which_where_there_is_one(cleo):
    order = counter_builders.booked(cleo)
    assert (order.branch, order.number[3:]) == (Branch.first(), "0001")
    assert not cleo.branches.exists()


def test_opening_a_second_leaves_everything_where_it_was(ada, cleo, ben):
    order = counter_builders.booked(cleo)
    two = branch_builders.two(ada, cleo, ben)
    assert order.branch == two.street
    assert set(two.street.people.all()) == {ada, cleo, ben}
    assert [len(one.seen_branches) for one in (two.ada, two.cleo, two.hanna)] == [2, 1, 1]


def test_a_third_asks_for_no_first_name(ada, cleo, ben):
    two = branch_builders.two(ada, cleo, ben)
    open_branch({"name": "Mill", "mark": "M"})
    two.street.refresh_from_db()
    assert two.street.name == "High Street"
    assert Workshop.here().has_branches


def test_somebody_new_starts_in_no_branch_unless_ticked(ada, cleo, ben, client):
    two = branch_builders.two(ada, cleo, ben)
    client.force_login(ada)
    new = {"shown_name": "Nell", "username": "nell", "role": "counter", "password": factories.PASSWORD}
    refused = client.post("/office/staff/new/", new)
    assert refused.status_code == 422
    assert "Tick where they work." in refused.content.decode()
    assert client.post("/office/staff/new/", new | {"branches": [two.harbour.pk]}).status_code == 302
    assert two.harbour.people.filter(username="nell").exists()
