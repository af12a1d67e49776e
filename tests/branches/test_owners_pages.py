"""The owner opens, changes, peoples, closes and takes away branches; papers carry what a branch says of itself."""

import pytest
from django.db import IntegrityError, transaction

from shop.billing import services as billing
from shop.handover import mails
from shop.handover import services as handover
from shop.orders.models import WorkOrder
from shop.orders.states import State
from shop.staff import branches
from shop.staff.branching import place_of
from shop.staff.models import AuditEntry, Branch, Workshop
from tests import branch_builders, counter_builders, factories, money_builders

pytestmark = pytest.mark.django_db
NEW = {"name": "Harbour", "mark": "h", "address": "1 Quay", "phone": "", "email": "", "opening_hours": "",
       "bench_hours_a_day": "4", "rack_slots": ""}  # fmt: skip


@pytest.fixture
def owner(ada, client):
    client.force_login(ada)
    return client


def test_a_second_place_is_opened_from_the_settings(owner, cleo):
    assert "A second place" in owner.get("/office/workshop/").content.decode()
    assert "A second place" in owner.get("/office/branches/").content.decode()
    typed = NEW | {"first-first_name": "High Street", "first-first_mark": ""}
    answer = owner.post("/office/branches/new/", typed, follow=True)
    assert "Harbour is open. Say who works there." in answer.content.decode()
    assert list(Branch.objects.values_list("name", "mark")) == [("Harbour", "H"), ("High Street", "")]
    assert Workshop.here().has_branches
    assert "High Street" in owner.get("/office/branches/").content.decode()
    assert AuditEntry.objects.filter(text="A new branch: Harbour.").exists()


@pytest.mark.parametrize(
    ("wrong", "says"),
    [({"mark": ""}, "Write a mark"), ({"mark": "H4"}, "capital letters"), ({"name": ""}, "required"),
     ({"bench_hours_a_day": "99"}, "24"), ({"first-first_name": ""}, "required"), ({"email": "x"}, "valid email"),
     ({"name": "High Street"}, "already")],
)  # fmt: skip
def test_what_is_wrong_is_said_and_nothing_is_opened(owner, wrong, says):
    first = Branch.first()
    first.name = "High Street"
    first.save()
    typed = NEW | {"first-first_name": "High Street", "first-first_mark": ""} | wrong
    answer = owner.post("/office/branches/new/", typed)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert Branch.objects.count() == 1
    assert not Workshop.here().has_branches


def test_it_is_changed_and_peopled(ada, cleo, ben, owner):
    two = branch_builders.two(ada, cleo, ben)
    address = f"/office/branches/{two.harbour.pk}/"
    page = owner.get(address).content.decode()
    assert ">People</h2>" in page
    changed = {"mark": "H", "initial-mark": "H", "name": "Old Harbour", "initial-name": "Harbour"}
    assert owner.post(address, NEW | changed).status_code == 302
    owner.post(f"{address}people/", {"people": [cleo.pk]})
    two.harbour.refresh_from_db()
    assert (two.harbour.name, list(two.harbour.people.all())) == ("Old Harbour", [cleo])
    assert AuditEntry.objects.filter(text="Hanna no longer works in Old Harbour.").exists()


def test_it_closes_once_nothing_is_open_there(ada, cleo, ben, owner):
    two = branch_builders.two(ada, cleo, ben)
    order = counter_builders.booked(ada, branch=two.harbour)
    address = f"/office/branches/{two.harbour.pk}/"
    said = owner.post(f"{address}close/", follow=True).content.decode()
    assert "One order is still open in Harbour" in said
    WorkOrder.objects.filter(pk=order.pk).update(state=State.COLLECTED)
    owner.post(f"{address}close/")
    two.harbour.refresh_from_db()
    assert not two.harbour.is_active
    owner.force_login(branch_builders.fresh(two.hanna))
    assert owner.get("/counter/").status_code == 403
    assert owner.get(f"/orders/{order.number}/").status_code == 200  # what was done there stays
    with pytest.raises(branches.NotAllowed, match="only branch"):
        branches.close(two.street)
    branches.open_again(two.harbour)
    assert Branch.objects.filter(is_active=True).count() == 2


def test_one_opened_by_mistake_goes_again(ada, cleo, ben, owner):
    two = branch_builders.two(ada, cleo, ben)
    order = counter_builders.booked(ada, branch=two.harbour)
    with pytest.raises(branches.NotAllowed, match="so it stays"):
        branches.take_away(two.harbour)
    with pytest.raises(branches.NotAllowed, match="began with"):
        branches.take_away(two.street)
    mill = branches.open_branch({"name": "Mill", "mark": "M"})
    owner.post(f"/office/branches/{mill.pk}/take-away/")
    assert not Branch.objects.filter(name="Mill").exists()
    assert Workshop.here().has_branches
    assert order.branch == two.harbour


def test_with_the_second_gone_there_is_one_again(ada, cleo, ben):
    two = branch_builders.two(ada, cleo, ben)
    branches.take_away(two.harbour)
    assert not Workshop.here().has_branches


def test_the_database_knows_one_mark_and_one_name(two):
    for fields in ({"name": "Other", "mark": "H"}, {"name": "Harbour", "mark": "Q"}):
        with pytest.raises(IntegrityError), transaction.atomic():
            Branch.objects.create(**fields)


def test_papers_and_mails_carry_the_branchs_own_details(ada, cleo, ben, client):
    factories.workshop(name="Hollow Lane", address="4 Hollow Lane", phone="+44 1632 960010", email="shop@example.com")
    two = branch_builders.two(ada, cleo, ben, address="1 Quay", email="harbour@example.com")
    ours, theirs = (money_builders.order(ada, branch=branch) for branch in (two.street, two.harbour))
    sellers = [billing.issue(order, by=ada).snapshot["seller"] for order in (ours, theirs)]
    assert [one["address"] for one in sellers] == ["4 Hollow Lane", "1 Quay"]
    assert [one["phone"] for one in sellers] == ["+44 1632 960010"] * 2  # it says nothing of its own
    sent = [mails.receipt([order], by=ada) for order in (ours, theirs)]
    assert [one.reply_to for one in sent] == ["shop@example.com", "harbour@example.com"]
    assert ["1 Quay" in one.text for one in sent] == [False, True]
    client.force_login(ada)
    page = client.get(f"/counter/booked/{theirs.number}/")
    assert page.status_code == 200
    place = place_of(theirs, Workshop.here())
    assert (place.name, place.address, place.currency) == ("Hollow Lane", "1 Quay", "EUR")


def test_a_credit_note_keeps_the_seller_it_corrects(two):
    two.harbour.address = "1 Quay"
    two.harbour.save()
    invoice = handover.issue_invoice(money_builders.order(two.ada, branch=two.harbour), by=two.ada)
    note = billing.credit(invoice, reason="Wrong.", by=two.ada)
    assert note.snapshot["seller"]["address"] == "1 Quay"
