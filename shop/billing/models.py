"""Invoices, credit notes and payments. An issued paper never changes; a credit note corrects it."""

from decimal import Decimal

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from shop.orders.models import WorkOrder
from shop.people.models import Customer

PERSON = settings.AUTH_USER_MODEL
MONEY = {"max_digits": 11, "decimal_places": 2}


class InvoiceKind(models.TextChoices):
    INVOICE = "invoice", "invoice"
    CREDIT_NOTE = "credit_note", "credit note"


class Invoice(models.Model):
    """A draft follows its order's agreed lines; issuing takes a number and freezes everything in `snapshot`."""

    kind = models.CharField(max_length=11, choices=InvoiceKind.choices, default=InvoiceKind.INVOICE)
    number = models.CharField(max_length=24, null=True, blank=True, unique=True, editable=False)
    order = models.ForeignKey(WorkOrder, models.PROTECT, related_name="invoices")
    customer = models.ForeignKey(Customer, models.PROTECT, related_name="invoices")
    corrects = models.ForeignKey("self", models.PROTECT, null=True, blank=True, related_name="credit_notes")
    reason = models.CharField(max_length=300, blank=True)  # of a credit note
    currency = models.CharField(max_length=3)
    prices_include_tax = models.BooleanField()
    created_at = models.DateTimeField()
    created_by = models.ForeignKey(PERSON, models.PROTECT, related_name="+")
    issued_at = models.DateTimeField(null=True, blank=True)
    issued_by = models.ForeignKey(PERSON, models.PROTECT, null=True, blank=True, related_name="+")
    issued_on = models.DateField(null=True, blank=True)
    due_on = models.DateField(null=True, blank=True)
    net = models.DecimalField(**MONEY, default=Decimal("0.00"))
    tax = models.DecimalField(**MONEY, default=Decimal("0.00"))
    total = models.DecimalField(**MONEY, default=Decimal("0.00"))
    snapshot = models.JSONField(default=dict, blank=True)  # seller, buyer, instrument, lines, taxes, terms as issued

    class Meta:
        ordering = ["-created_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(number=None, issued_at=None) | models.Q(number__isnull=False, issued_at__isnull=False),
                name="invoice_number_when_issued",
            )
        ]

    def __str__(self):
        return self.number or "draft"

    @property
    def is_issued(self):
        return self.issued_at is not None

    def delete(self, *args, **kwargs):
        if self.is_issued:
            raise ValidationError("An issued invoice is never deleted; write a credit note.")
        return super().delete(*args, **kwargs)


class InvoiceLine(models.Model):
    invoice = models.ForeignKey(Invoice, models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField()
    text = models.CharField(max_length=300)
    quantity = models.DecimalField(max_digits=8, decimal_places=2)
    price = models.DecimalField(**MONEY)
    tax_rate = models.DecimalField(max_digits=5, decimal_places=2)
    amount = models.DecimalField(**MONEY)  # quantity × price, rounded once

    class Meta:
        ordering = ["position"]
        constraints = [models.UniqueConstraint(fields=["invoice", "position"], name="invoice_position_once")]

    def __str__(self):
        return self.text


class PaymentKind(models.TextChoices):
    CASH = "cash", "cash"
    CARD = "card", "card"
    TRANSFER = "transfer", "bank transfer"
    OTHER = "other", "other"


class Payment(models.Model):
    """Money received (or, negative, given back) for an order: a deposit before the invoice, or a payment of it."""

    order = models.ForeignKey(WorkOrder, models.PROTECT, related_name="payments")
    invoice = models.ForeignKey(Invoice, models.PROTECT, null=True, blank=True, related_name="payments")
    kind = models.CharField(max_length=8, choices=PaymentKind.choices, default=PaymentKind.CARD)
    amount = models.DecimalField(
        **MONEY, validators=[MinValueValidator(Decimal(-999999)), MaxValueValidator(Decimal(999999))]
    )
    is_deposit = models.BooleanField(default=False)
    note = models.CharField(max_length=200, blank=True)
    received_on = models.DateField()
    key = models.UUIDField(unique=True)  # one press of the button is one payment
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(PERSON, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["received_on", "pk"]
        constraints = [models.CheckConstraint(condition=~models.Q(amount=0), name="payment_not_nothing")]

    def __str__(self):
        return f"{self.amount} {self.get_kind_display()}"
