"""Numbers of two branches: each counts for itself, without gaps, and no two are alike."""

import re
import uuid

import pytest
from django.db import transaction

from shop.billing import services as billing
from shop.orders import finding, services
from shop.orders.models import WorkOrder
from shop.staff.branches import NotAllowed, check_mark
from tests import branch_builders, counter_builders, factories, money_builders
from tests.processes import ShopOnDisk

pytestmark = pytest.mark.django_db


def booked(two, branch, by=None):
    return counter_builders.booked(by or two.ada, branch=branch)


def test_the_first_branch_goes_on_and_the_second_begins(ada, cleo, ben):
    before = counter_builders.booked(cleo).number
    two = branch_builders.two(ada, cleo, ben)
    numbers = [booked(two, branch).number for branch in (two.street, two.harbour, two.harbour, two.street)]
    year = before[:2]
    assert [before, *numbers] == [f"{year}-{one}" for one in ("0001", "0002", "H0001", "H0002", "0003")]


def test_a_roll_back_leaves_no_gap_in_either(two):
    with pytest.raises(RuntimeError), transaction.atomic():
        booked(two, two.harbour)
        raise RuntimeError
    assert booked(two, two.harbour).number.endswith("-H0001")


def test_nothing_is_booked_in_nowhere(two):
    with pytest.raises(ValueError, match="say which"):
        counter_builders.booked(two.ada)


def issued(two, branch):
    return billing.issue(money_builders.order(two.ada, branch=branch), by=two.ada)


def test_invoices_and_credit_notes_count_by_branch(two):
    papers = [issued(two, branch) for branch in (two.street, two.harbour, two.street, two.harbour)]
    papers += [billing.credit(one, reason="Wrong.", by=two.ada) for one in (papers[1], papers[0])]
    assert [re.sub(r"\d\d-", "-", one.number) for one in papers] == [
        "R-0001", "R-H0001", "R-0002", "R-H0002", "C-H0001", "C-0001",
    ]  # fmt: skip


def test_a_paper_keeps_its_branch_when_its_order_moves_on(two):
    """What was issued is in the books of whoever issued it, and so is its credit note."""
    invoice = issued(two, two.harbour)
    services.move_to_branch(invoice.order, two.street, by=two.ada)
    note = billing.credit(invoice, reason="Wrong.", by=two.ada)
    assert (invoice.branch, note.branch) == (two.harbour, two.harbour)
    again = billing.issue(services.WorkOrder.objects.get(pk=invoice.order_id), by=two.ada)
    assert (again.branch, re.sub(r"\d\d-", "-", again.number)) == (two.street, "R-0001")


def test_money_is_received_where_the_order_is(two):
    order = money_builders.order(two.ada, branch=two.harbour)

    def pay():
        return billing.receive(order, amount=5, kind="cash", key=uuid.uuid4(), by=two.ada)

    first = pay()
    services.move_to_branch(order, two.street, by=two.ada)
    assert (first.branch, pay().branch) == (two.harbour, two.street)


@pytest.mark.parametrize("said", ["{y}-H0001", "{y}h0001", "{y} H 0001", "h1", "H0001", "/t/{y}-H0001"])
def test_a_number_is_found_as_it_is_said(two, said):
    order = booked(two, two.harbour)
    booked(two, two.street)
    text = said.format(y=order.number[:2])
    assert finding.order_said(text, two.ada) == order
    assert finding.order_said(text, two.hanna) == order
    assert finding.order_said(text, two.cleo) is None


@pytest.mark.parametrize("said", ["{y}-H0001", "{y}h1", "{y}-H00", "h1"])
def test_a_list_finds_it_by_as_much_as_is_said(two, said):
    order = booked(two, two.harbour)
    booked(two, two.street)
    assert list(WorkOrder.objects.matching(said.format(y=order.number[:2]))) == [order]


def test_a_count_alone_means_ones_own_branch(two):
    street, harbour = booked(two, two.street), booked(two, two.harbour)
    assert finding.order_said("1", two.cleo) == street
    assert finding.order_said("1", two.hanna) == harbour


def test_a_mark_that_stands_on_papers_stays(two):
    check_mark(two.harbour, "Q")  # nothing is numbered with it yet
    booked(two, two.harbour)
    with pytest.raises(NotAllowed, match="it stays"):
        check_mark(two.harbour, "Q")
    with pytest.raises(NotAllowed, match="Write a mark"):
        check_mark(factories.person("x", "owner").branches.model(name="New"), "")


SET_UP = """
from shop.staff.models import Person, Workshop
from shop.staff.branches import open_branch
from shop.people.models import Customer
from shop.instruments.models import Instrument
Workshop.here()
Person.objects.create_user(username="ada", password="a long oak plank", role="owner", shown_name="Ada")
Instrument.objects.create(customer=Customer.objects.create(name="Mara Fell"), maker="Larkrise")
open_branch({"name": "Harbour", "mark": "H"}, first_name="High Street")
"""
BOOK_IN = """
import sys, uuid
from shop.instruments.models import Instrument
from shop.orders import services
from shop.staff.models import Branch, Person
one, ada = Instrument.objects.select_related("customer").get(), Person.objects.get()
branches = list(Branch.objects.order_by("pk"))
for number in range(8):
    draft = services.Booking(customer=one.customer, instrument=one, complaint="Buzzes.", draft_key=uuid.uuid4(),
                             branch=branches[number % 2])
    print(services.book_in(draft, by=ada, afterwards=()).number)
"""


def test_several_at_once_leave_no_gap_in_either_branch(tmp_path):
    shop = ShopOnDisk(tmp_path)
    shop.say(SET_UP)
    numbers = " ".join(shop.run(*[(BOOK_IN,)] * 3)).split()
    for mark in ("", "H"):
        counts = sorted(int(found[1]) for one in numbers if (found := re.fullmatch(rf"\d\d-{mark}(\d{{4}})", one)))
        assert counts == list(range(1, 13)), mark
