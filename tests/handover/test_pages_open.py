"""Every page of money, hand-over and mail opens, for whom it should, at every point of an order's way."""

from decimal import Decimal

import pytest
from django.urls import reverse

from shop.billing import services as billing
from shop.handover import making, queue, services
from shop.handover.models import OutgoingMail
from shop.orders.states import State
from tests import handover_builders as build
from tests import money_builders


@pytest.fixture
def order(cleo, ben):
    return build.checked(cleo, ben)


def opens(client, name, *args, status=200):
    answer = client.get(reverse(name, args=args))
    assert answer.status_code == status, (name, answer.status_code)
    return answer.content.decode()


def test_before_it_is_ready(cleo, order, as_person):
    client = as_person(cleo)
    assert "The invoice is issued over <strong>€85.00</strong>" in opens(client, "order-ready", order.number)
    assert "It is issued once" not in opens(client, "order-money", order.number)
    assert "An order that is checked is not handed over." in opens(client, "order-collect", order.number)


def test_once_it_is_ready(cleo, order, as_person):
    client = as_person(cleo)
    done = services.make_ready(order, by=cleo)
    page = opens(client, "invoice", done.invoice.pk)
    assert done.invoice.number in page
    assert "open" in page
    assert "€85.00 is still open." in opens(client, "order-collect", order.number)
    assert done.invoice.number in opens(client, "invoices")
    assert done.mail.subject in opens(client, "mail")
    detail = opens(client, "mail-detail", done.mail.pk)
    assert done.papers[0].name in detail
    assert "Dear Mara Fell" in opens(client, "mail-html", done.mail.pk)
    opens(client, "mail-silenced")
    opens(client, "invoice-credit", done.invoice.pk)


def test_paid_credited_and_given_back(cleo, order, as_person):
    client = as_person(cleo)
    done = services.make_ready(order, by=cleo)
    billing.receive(order, amount=Decimal(85), kind="card", key=money_builders.key(), by=cleo)
    assert "paid" in opens(client, "invoice", done.invoice.pk)
    note, _ = services.credit_invoice(done.invoice, reason="Wrong strings.", by=cleo, send=False)
    assert done.invoice.number in opens(client, "invoice", note.pk)
    assert note.number in opens(client, "invoice", done.invoice.pk)
    assert "Received in all" in opens(client, "order-money", order.number)


def test_a_pdf_opens_as_it_was_kept(cleo, order, as_person):
    client = as_person(cleo)
    paper = services.make_ready(order, by=cleo).papers[1]
    answer = client.get(reverse("paper", args=[paper.pk, paper.name]))
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content == paper.read()


def test_the_draft_and_the_receipt_open_as_pdf(cleo, order, as_person):
    client = as_person(cleo)
    assert client.get(reverse("invoice-draft", args=[order.number])).content.startswith(b"%PDF-")
    answer = client.get(reverse("order-receipt", args=[order.number]), follow=True)
    assert answer.content == making.receipt_paper(order).read()


def test_mails_in_every_state_show(cleo, order, as_person):
    client = as_person(cleo)
    mail = services.make_ready(order, by=cleo).mail
    queue.withdraw(mail, by=cleo)
    assert "withdrawn" in opens(client, "mail-detail", mail.pk)
    OutgoingMail.objects.update(state="failed", last_error="The mail server refuses it for good: 550 no such user")
    assert "550 no such user" in opens(client, "mail-detail", mail.pk)
    assert "550 no such user" in opens(client, "mail")
    OutgoingMail.objects.update(state="sent", is_local=True)
    assert "has not left this machine" in opens(client, "mail-detail", mail.pk)


def test_what_goes_back_as_it_came_needs_no_invoice(cleo, as_person):
    order = money_builders.order(cleo, lines=[], state=State.DECLINED)
    assert "Give it back as it came" in opens(as_person(cleo), "order-collect", order.number)
