"""An order goes on to another branch; a person works in one or in several."""

import pytest

from shop.handover import services as handover
from shop.orders import services
from shop.orders.models import WorkOrder
from tests import branch_builders, counter_builders, money_builders
from tests.papers import printed

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(two):
    return counter_builders.booked(two.cleo, branch=two.street, rack_slot="A1")


def test_it_goes_with_an_event_and_leaves_its_place(two, order):
    services.move_to_branch(order, two.harbour, by=two.cleo, reason="lives there")
    order.refresh_from_db()
    assert (order.branch, order.rack_slot) == (two.harbour, "")
    event = order.events.last()
    assert (event.what, event.text, event.by) == (
        "branch_changed", "Branch: High Street → Harbour: lives there", two.cleo,
    )  # fmt: skip


@pytest.mark.parametrize("to", ["street", "closed"])
def test_it_goes_only_to_another_branch_that_is_open(two, order, to):
    two.harbour.is_active = to != "closed"
    with pytest.raises(services.NotAllowed):
        services.move_to_branch(order, getattr(two, to, two.harbour), by=two.cleo)
    assert order.events.filter(what="branch_changed").count() == 0


def test_the_counter_moves_it_and_then_sees_it_no_more(two, order, client):
    client.force_login(two.cleo)
    assert "To another branch" in client.get(f"/orders/{order.number}/").content.decode()
    answer = client.post(f"/orders/{order.number}/branch/", {"to": two.harbour.pk}, follow=True)
    assert f"{order.number} is in Harbour now." in answer.content.decode()
    assert client.get(f"/orders/{order.number}/").status_code == 404
    client.force_login(two.hanna)
    assert client.get(f"/orders/{order.number}/").status_code == 200


def test_nonsense_changes_nothing_and_is_told_beside_its_field(two, order, client):
    client.force_login(two.cleo)
    for to in ("", "99", "x", two.street.pk):
        answer = client.post(f"/orders/{order.number}/branch/", {"to": to, "reason": "because"})
        assert answer.status_code == 422
        assert "because" in answer.content.decode()
    order.refresh_from_db()
    assert order.branch == two.street


def test_an_invoice_is_seen_where_it_was_issued_and_where_its_order_is(two, client):
    order = money_builders.order(two.cleo, branch=two.street)
    invoice = handover.issue_invoice(order, by=two.cleo)
    services.move_to_branch(order, two.harbour, by=two.ada)
    for person in (two.cleo, two.hanna):
        client.force_login(person)
        assert client.get(f"/invoices/{invoice.pk}/").status_code == 200
        paper = order.papers.get()
        assert client.get(f"/papers/{paper.pk}/{paper.name}").status_code == 200


def test_the_receipt_speaks_for_where_the_visit_was_taken_in_and_names_all_of_it(two, client):
    """Also when it is first asked for from the branch that one of the instruments went to."""
    branch_address, two.harbour.address = "12 High Street", "1 Quay"
    two.street.address = branch_address
    for branch in (two.street, two.harbour):
        branch.save(update_fields=["address"])
    first, second = counter_builders.booked_together(two.cleo, branch=two.street)
    services.move_to_branch(first, two.harbour, by=two.cleo)
    client.force_login(two.hanna)
    paper = client.get(f"/orders/{first.number}/receipt.pdf", follow=True)
    text = " ".join(printed.by_pdfium(paper.content).split())
    assert ("12 High Street" in text, "1 Quay" in text) == (True, False)
    assert {first.number, second.number} <= set(text.split())


def test_who_works_in_both_chooses_and_books_in_there(two, client):
    two.harbour.people.add(two.cleo)
    client.force_login(two.cleo)
    page = client.get("/counter/").content.decode()
    assert "Branch in which you work now" in page
    client.post("/branch/", {"branch": two.harbour.pk, "back": "/counter/"})
    client.post("/counter/book-in/", counter_builders.form_data())
    assert WorkOrder.objects.get().branch == two.harbour
    client.post("/branch/", {"branch": two.street.pk})
    client.post("/counter/book-in/", counter_builders.form_data(customer__name="Second"))
    assert WorkOrder.objects.first().branch == two.street


@pytest.mark.parametrize("asked", ["0", "x", "", "harbour"])
def test_nobody_chooses_a_branch_that_is_not_theirs(two, client, asked):
    client.force_login(two.cleo)
    client.post("/branch/", {"branch": two.harbour.pk if asked == "harbour" else asked})
    client.post("/counter/book-in/", counter_builders.form_data())
    assert WorkOrder.objects.get().branch == two.street


def test_the_choice_leads_nowhere_outside(two, client):
    client.force_login(two.ada)
    answer = client.post("/branch/", {"branch": two.harbour.pk, "back": "https://example.com/"})
    assert answer["Location"] == "/"


def test_who_works_nowhere_is_told_so_and_sees_nothing(two, order, client):
    two.street.people.remove(two.ben)
    client.force_login(branch_builders.fresh(two.ben))
    assert client.get("/bench/").status_code == 403
    assert client.get(f"/orders/{order.number}/").status_code == 404
    assert order.number not in client.get("/orders/?show=all").content.decode()


def test_lists_say_the_branch_and_can_show_one(two, order, client):
    harbour = counter_builders.booked(two.ada, branch=two.harbour)
    client.force_login(two.ada)
    both = client.get("/orders/").content.decode()
    assert order.number in both
    assert '<span class="of-branch">Harbour</span>' in both
    one = client.get(f"/orders/?branch={two.harbour.pk}").content.decode()
    assert (order.number in one, harbour.number in one) == (False, True)
    table = b"".join(client.get(f"/orders/export.csv?branch={two.harbour.pk}").streaming_content).decode()
    assert (order.number in table, f"{harbour.number}," in table, "Harbour" in table) == (False, True, True)
    client.force_login(two.cleo)
    assert "of-branch" not in client.get("/orders/").content.decode()
