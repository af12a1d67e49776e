"""The statement of what a customer owes: kept as it was sent, never twice the same on a day."""

import pytest
from django.urls import reverse

from shop.billing import services as billing
from shop.handover import outbox, stating
from shop.handover.models import MailState, OutgoingMail, Paper
from shop.orders.services import NotAllowed
from tests import factories, money_builders
from tests.papers import builders, reading


@pytest.fixture
def customer(cleo):
    builders.shop(prices_include_tax=True)
    who = factories.customer()
    for price in ("85.00", "120.00"):
        order = money_builders.order(cleo, lines=[("Setup", price)], instrument=factories.instrument(who))
        billing.issue(order, by=cleo)
    return who


def test_the_bytes_that_are_sent_are_the_bytes_that_stay(customer, cleo, mailbox):
    mail = stating.mail_statement(customer, by=cleo)
    outbox.deliver()
    (message,) = mailbox.taken
    (attached,) = message.iter_attachments()
    (paper,) = stating.sent_to(customer)
    assert attached.get_payload(decode=True) == paper.read()
    assert "€205.00" in reading.text(paper.read())
    assert "this is what is open today, €205.00 in all" in mail.text
    assert all(number in mail.text for number in ("R26-0001", "R26-0002")) or "Invoice R" in mail.text
    assert "/your-order" not in mail.text  # no order's own page: the statement is about several


def test_later_payments_do_not_change_what_was_sent(customer, cleo):
    stating.mail_statement(customer, by=cleo)
    before = Paper.objects.get().read()
    order = customer.invoices.first().order
    billing.receive(order, amount=money_builders.Decimal("20"), kind="cash", key=money_builders.key(), by=cleo)
    assert Paper.objects.get().read() == before
    stating.mail_statement(customer, by=cleo)  # something changed, so another one may go
    assert [("€205.00" in reading.text(one.read())) for one in stating.sent_to(customer)] == [False, True]


def test_the_same_does_not_go_twice_on_a_day(customer, cleo):
    stating.mail_statement(customer, by=cleo)
    with pytest.raises(NotAllowed, match="has gone to Mara Fell today already"):
        stating.mail_statement(customer, by=cleo)
    OutgoingMail.objects.update(state=MailState.WITHDRAWN)
    assert stating.mail_statement(customer, by=cleo)
    assert Paper.objects.count() == 1


def test_nothing_open_is_nothing_to_state(cleo):
    with pytest.raises(NotAllowed, match="Nothing that Mara Fell owes is open"):
        stating.mail_statement(factories.customer(), by=cleo)


def test_the_customers_page_has_it_all(customer, cleo, as_person):
    client = as_person(cleo)
    page = reverse("customer", args=[customer.pk])
    assert "Mail what is open today" in client.get(page).content.decode()
    answer = client.post(reverse("statement-mail", args=[customer.pk]), follow=True)
    assert "The statement goes to mara@example.com." in answer.content.decode()
    (paper,) = stating.sent_to(customer)
    address = reverse("paper", args=[paper.pk, paper.name])
    assert address in answer.content.decode()
    assert client.get(address).status_code == 200
    again = client.post(reverse("statement-mail", args=[customer.pk]), follow=True)
    assert "today already" in again.content.decode()


def test_who_cannot_be_mailed_has_it_kept_to_be_printed(customer, cleo, as_person):
    customer.email = ""
    customer.save(update_fields=["email"])
    answer = as_person(cleo).post(reverse("statement-mail", args=[customer.pk]), follow=True)
    assert "The statement is kept, to be printed." in answer.content.decode()
    assert "kept, not mailed" in answer.content.decode()


def test_an_orders_page_does_not_show_it(customer, cleo):
    """It says what other orders cost: who has the private address of one order sees that one alone."""
    stating.mail_statement(customer, by=cleo)
    paper = Paper.objects.get()
    assert paper not in Paper.objects.of_order(paper.order)
