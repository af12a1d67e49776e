"""An issued paper is never edited nor deleted: by its model, by a set of rows, nor in the database itself."""

from decimal import Decimal

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError, connection, transaction
from django.db.models import ProtectedError

from shop.billing import services
from shop.billing.models import Invoice, Payment
from tests import money_builders as build


@pytest.fixture
def invoice(cleo):
    return services.issue(build.order(cleo), by=cleo)


def test_saving_is_refused(invoice):
    invoice.total = Decimal(1)
    with pytest.raises(IntegrityError, match="An issued invoice never changes"), transaction.atomic():
        invoice.save(update_fields=["total"])


def test_changing_a_set_is_refused(invoice):
    with pytest.raises(IntegrityError, match="never changes"), transaction.atomic():
        Invoice.objects.update(reason="other")


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE billing_invoice SET total = 1",
        "UPDATE billing_invoice SET number = 'R26-9999'",
        "UPDATE billing_invoice SET issued_at = NULL, number = NULL",
        "UPDATE billing_invoiceline SET amount = 1",
        "UPDATE billing_payment SET amount = 1",
    ],
)
def test_the_database_itself_refuses(cleo, invoice, statement):
    services.receive(invoice.order, amount=Decimal(5), kind="cash", key=build.key(), by=cleo)
    with pytest.raises(IntegrityError, match="never changes"), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement)


@pytest.mark.django_db(transaction=True)
def test_the_database_itself_keeps_the_row(invoice):
    with pytest.raises(IntegrityError), transaction.atomic(), connection.cursor() as cursor:
        cursor.execute("DELETE FROM billing_invoice")
    assert Invoice.objects.count() == 1


def test_deleting_is_refused(invoice):
    with pytest.raises(ValidationError, match="never deleted"):
        invoice.delete()
    with pytest.raises(ValidationError, match="never deleted"):
        Invoice.objects.all().delete()
    with pytest.raises(ProtectedError):
        invoice.order.delete()


def test_a_payment_is_never_deleted(cleo, invoice):
    payment = services.receive(invoice.order, amount=Decimal(5), kind="cash", key=build.key(), by=cleo)
    with pytest.raises(ValidationError, match="never deleted"):
        payment.delete()
    with pytest.raises(ValidationError, match="never deleted"):
        Payment.objects.all().delete()


def test_two_invoices_cannot_share_a_number(cleo, invoice):
    with pytest.raises(IntegrityError), transaction.atomic():
        Invoice.objects.create(
            order=build.order(cleo, instrument=invoice.order.instrument), branch=invoice.branch,
            customer=invoice.customer, currency="EUR",
            prices_include_tax=True, created_at=invoice.created_at, created_by=cleo, number=invoice.number,
            issued_at=invoice.issued_at, issued_on=invoice.issued_on,
        )  # fmt: skip


@pytest.mark.parametrize(
    "broken",
    [
        {"number": "R26-0777"},  # numbered, but not issued
        {"kind": "credit_note"},  # corrects nothing
        {"turn": 1},  # a second invoice beside the first
    ],
)
def test_rows_that_make_no_sense_are_refused(cleo, invoice, broken):
    fields = {"turn": 2} | broken
    with pytest.raises(IntegrityError), transaction.atomic():
        Invoice.objects.create(
            order=invoice.order, branch=invoice.branch, customer=invoice.customer, currency="EUR",
            prices_include_tax=True, created_at=invoice.created_at, created_by=cleo, **fields,
        )  # fmt: skip
