"""The hand-over does its part in the transaction that books in."""

import pytest

from shop.handover.models import OutgoingMail
from shop.orders import hooks, services
from shop.orders.models import WorkOrder
from tests import factories
from tests.counter_builders import booking

pytestmark = pytest.mark.django_db


def test_the_customers_receipt_is_queued(cleo):
    order = services.book_in(booking(), by=cleo)
    mail = OutgoingMail.objects.get()
    assert (mail.name, mail.order, mail.to) == ("receipt", order, "mara@example.com")


def test_without_an_address_nothing_is_queued_and_it_is_booked_in_all_the_same(cleo):
    services.book_in(booking(factories.customer(email="")), by=cleo)
    assert not OutgoingMail.objects.exists()
    assert WorkOrder.objects.exists()


def test_an_order_that_is_taken_back_takes_its_mail_along(cleo, monkeypatch):
    def fails(orders, by):
        raise RuntimeError("no")

    monkeypatch.setattr(hooks, "after_book_in", [*hooks.after_book_in, fails])
    with pytest.raises(RuntimeError):
        services.book_in(booking(), by=cleo)
    assert not OutgoingMail.objects.exists()
