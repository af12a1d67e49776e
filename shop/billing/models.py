"""Invoices, credit notes and payments. An issued paper never changes; a credit note corrects it."""

from decimal import Decimal

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from shop.billing.querysets import InvoiceQuerySet, PaymentQuerySet
from shop.billing.states import InvoiceState
from shop.billing.treatments import Treatment
from shop.orders.models import WorkOrder
from shop.people.models import Customer
from shop.staff.models import Branch

PERSON = settings.AUTH_USER_MODEL
MONEY = {"max_digits": 11, "decimal_places": 2}


class InvoiceKind(models.TextChoices):
    INVOICE = "invoice", "invoice"
    CREDIT_NOTE = "credit_note", "credit note"


class Invoice(models.Model):
    """A draft holds only what its order does not say; its amounts follow the order's agreed lines.

    Issuing takes a number and freezes everything in `snapshot`; from then on the database refuses any change.
    `turn` counts an order's invoices: the second one is written after the first was credited. The amounts of a
    credit note are below zero, so that sums over issued rows are true.
    """

    kind = models.CharField(max_length=11, choices=InvoiceKind.choices, default=InvoiceKind.INVOICE)
    number = models.CharField(max_length=24, null=True, blank=True, unique=True, editable=False)
    order = models.ForeignKey(WorkOrder, models.PROTECT, related_name="invoices")
    # Whose number it has. The order may move on to another branch; an issued paper does not.
    branch = models.ForeignKey(Branch, models.PROTECT, related_name="invoices", db_index=False, editable=False)
    customer = models.ForeignKey(Customer, models.PROTECT, related_name="invoices")
    turn = models.PositiveSmallIntegerField(default=1, editable=False)
    corrects = models.OneToOneField("self", models.PROTECT, null=True, blank=True, related_name="credit_note")
    reason = models.CharField(max_length=300, blank=True)  # of a credit note
    discount_percent = models.DecimalField(
        "discount, %",
        max_digits=5,
        decimal_places=2,
        default=Decimal("0.00"),
        validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(100))],
    )
    discount_reason = models.CharField("what the discount is for", max_length=120, blank=True)
    tax_treatment = models.CharField("tax", max_length=2, choices=Treatment.choices, blank=True)
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
    snapshot = models.JSONField(default=dict, blank=True)  # see billing.snapshot

    objects = InvoiceQuerySet.as_manager()

    class Meta:
        ordering = ["-created_at", "-pk"]
        indexes = [
            models.Index(fields=["-issued_on", "-id"], name="invoice_newest"),
            models.Index(fields=["due_on", "id"], name="invoice_due"),
            models.Index(fields=["id"], condition=models.Q(issued_at=None), name="invoice_drafts"),
        ]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(number=None, issued_at=None)
                | models.Q(number__isnull=False, issued_at__isnull=False, issued_on__isnull=False),
                name="invoice_number_when_issued",
            ),
            models.CheckConstraint(
                condition=models.Q(kind="invoice", corrects=None)
                | models.Q(kind="credit_note", corrects__isnull=False, issued_at__isnull=False, reason__gt=""),
                name="credit_note_says_what_and_why",
            ),
            models.UniqueConstraint(fields=["order", "kind", "turn"], name="one_invoice_a_turn"),
        ]

    def __str__(self):
        return self.number or "draft"

    @property
    def is_issued(self):
        return self.issued_at is not None

    @property
    def is_credit_note(self):
        return self.kind == InvoiceKind.CREDIT_NOTE

    @property
    def is_credited(self):
        return hasattr(self, "credit_note")

    def delete(self, *args, **kwargs):
        if self.is_issued:
            raise ValidationError("An issued invoice is never deleted; write a credit note.")
        return super().delete(*args, **kwargs)


class InvoiceLine(models.Model):
    """A line as it was issued. Drafts have none: they follow the order."""

    invoice = models.ForeignKey(Invoice, models.PROTECT, related_name="lines")
    position = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=8)
    text = models.CharField(max_length=300)
    quantity = models.DecimalField(max_digits=8, decimal_places=2)
    price = models.DecimalField(**MONEY)
    tax_rate = models.DecimalField(max_digits=5, decimal_places=2)
    amount = models.DecimalField(**MONEY)  # quantity × price, rounded once; below zero on a credit note

    class Meta:
        ordering = ["position"]
        constraints = [models.UniqueConstraint(fields=["invoice", "position"], name="invoice_position_once")]

    def __str__(self):
        return self.text

    def delete(self, *args, **kwargs):
        raise ValidationError("A line of an issued invoice is kept.")


class Balance(models.Model):
    """How an issued invoice stands. Kept by the services in the transaction of whatever changes it, and indexed, so
    that lists need not add up every payment; it says nothing that invoices and payments do not."""

    invoice = models.OneToOneField(Invoice, models.PROTECT, primary_key=True, related_name="balance")
    state = models.CharField(max_length=11, choices=InvoiceState.choices)
    received = models.DecimalField(**MONEY, default=Decimal("0.00"))
    open_amount = models.DecimalField(**MONEY, default=Decimal("0.00"))  # below zero: to be given back
    due_on = models.DateField(null=True, blank=True)  # the invoice's, as long as something is unpaid

    class Meta:
        indexes = [
            models.Index(fields=["state", "-invoice"], name="balance_newest_in_state"),
            models.Index(fields=["due_on", "invoice"], name="balance_unpaid"),
        ]

    def __str__(self):
        return f"{self.invoice_id} {self.state} {self.open_amount}"


class PaymentKind(models.TextChoices):
    CASH = "cash", "cash"
    CARD = "card", "card"
    TRANSFER = "transfer", "bank transfer"
    OTHER = "other", "other"


class Payment(models.Model):
    """Money received (or, below zero, given back) for an order. Never changed: `undoes` takes a mistaken one back."""

    order = models.ForeignKey(WorkOrder, models.PROTECT, related_name="payments")
    branch = models.ForeignKey(Branch, models.PROTECT, related_name="payments", db_index=False, editable=False)
    kind = models.CharField("how", max_length=8, choices=PaymentKind.choices, default=PaymentKind.CARD)
    amount = models.DecimalField(
        **MONEY, validators=[MinValueValidator(Decimal(-999999)), MaxValueValidator(Decimal(999999))]
    )
    is_deposit = models.BooleanField(default=False)  # received before the invoice
    note = models.CharField(max_length=200, blank=True)
    received_on = models.DateField("received on")
    undoes = models.OneToOneField("self", models.PROTECT, null=True, blank=True, related_name="undone_by")
    key = models.UUIDField(unique=True)  # one press of the button is one payment
    at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.PROTECT, related_name="+")

    objects = PaymentQuerySet.as_manager()

    class Meta:
        ordering = ["received_on", "pk"]
        indexes = [models.Index(fields=["received_on", "id"], name="payment_received")]
        constraints = [
            models.CheckConstraint(condition=~models.Q(amount=0), name="payment_not_nothing"),
            models.CheckConstraint(
                condition=models.Q(amount__gt=0) | ~models.Q(note=""), name="money_given_back_says_why"
            ),
        ]

    def __str__(self):
        return f"{self.amount} {self.get_kind_display()}"

    @property
    def is_undone(self):
        return hasattr(self, "undone_by")

    def delete(self, *args, **kwargs):
        raise ValidationError("A payment is never deleted; take it back.")
