"""Work orders: one visit of one instrument, from book-in to collection."""

import uuid
from decimal import Decimal

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from shop.instruments.models import Instrument
from shop.orders.plan_models import BenchHours, CalendarFeed, ClosedDays  # noqa: F401 (Django's way in)
from shop.orders.querysets import STILL_OPEN, WorkOrderQuerySet
from shop.orders.quote_models import Answer, CustomerLink, Quote  # noqa: F401
from shop.orders.states import State
from shop.people.models import Customer
from shop.staff.models import Branch
from shop.stock.models import LONGEST_MINUTES, ItemKind, PriceItem

PERSON = settings.AUTH_USER_MODEL


class Priority(models.IntegerChoices):
    USUAL = 0, "usual"
    SOON = 1, "soon"
    STAGE = 2, "needed on a date"


class WorkOrder(models.Model):
    number = models.CharField(max_length=16, unique=True, editable=False, help_text="Said aloud: year, then count.")
    branch = models.ForeignKey(Branch, models.PROTECT, related_name="orders", db_index=False, editable=False)
    customer = models.ForeignKey(Customer, models.PROTECT, related_name="orders")
    instrument = models.ForeignKey(Instrument, models.PROTECT, related_name="orders")
    state = models.CharField(max_length=18, choices=State.choices, default=State.BOOKED_IN, editable=False)
    complaint = models.TextField("what the customer says", max_length=3000)
    condition = models.TextField(
        "condition in words", max_length=3000, blank=True, help_text="Whatever the marks on the drawing do not say."
    )
    came_with = models.TextField(
        "what came with it", max_length=1000, blank=True, help_text="Case, strap, lever, spare parts, papers."
    )
    priority = models.SmallIntegerField(choices=Priority.choices, default=Priority.USUAL)
    promised_on = models.DateField("promised for", null=True, blank=True)
    rack_slot = models.CharField("rack", max_length=40, blank=True, help_text="Where it waits in the workshop.")
    bench_note = models.TextField("note for the bench", max_length=3000, blank=True)
    booked_at = models.DateTimeField(editable=False)
    booked_by = models.ForeignKey(PERSON, models.PROTECT, related_name="+", editable=False)
    state_since = models.DateTimeField(editable=False)
    state_reason = models.CharField(max_length=300, blank=True, editable=False)  # such as what it waits for
    closed_at = models.DateTimeField(null=True, blank=True, editable=False)
    intake_terms = models.TextField(blank=True, editable=False)  # the exact text accepted at book-in
    signature = models.FileField(upload_to="signatures/%Y/%m", blank=True, editable=False)
    lines_fixed_by = models.CharField(max_length=60, blank=True, editable=False)  # such as: invoice R26-0001
    draft_key = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)  # one draft books in once
    visit = models.UUIDField(default=uuid.uuid4, db_index=True, editable=False)  # shared by what was brought together

    objects = WorkOrderQuerySet.as_manager()

    class Meta:
        ordering = ["-booked_at", "-pk"]
        indexes = [
            models.Index(fields=["state", "promised_on", "id"], condition=models.Q(**STILL_OPEN), name="order_open"),
            models.Index(fields=["-booked_at", "-id"], name="order_newest"),
            models.Index(fields=["branch", "-booked_at", "-id"], name="order_newest_of_branch"),
            models.Index(fields=["state", "-booked_at", "-id"], name="order_newest_in_state"),
            models.Index(fields=["-booked_at", "-id"], condition=models.Q(**STILL_OPEN), name="order_open_newest"),
            models.Index(fields=["closed_at"], condition=models.Q(closed_at__isnull=False), name="order_closed"),
        ]

    def __str__(self):
        return self.number


class ConditionMark(models.Model):
    """A mark that the instrument already had, tapped on its outline. x and y are fractions of the outline."""

    order = models.ForeignKey(WorkOrder, models.CASCADE, related_name="marks")
    x = models.FloatField(validators=[MinValueValidator(0.0), MaxValueValidator(1.0)])
    y = models.FloatField(validators=[MinValueValidator(0.0), MaxValueValidator(1.0)])
    side = models.CharField(max_length=5, choices=[("front", "front"), ("back", "back")], default="front")
    note = models.CharField(max_length=200)
    photo = models.ForeignKey("orders.Photo", models.SET_NULL, null=True, blank=True, related_name="marks")

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.note


class Photo(models.Model):
    """A re-encoded photograph, served only through its own permission check.

    Taken while an order is being booked in it belongs to a draft, by `draft_key`, until the order is there.
    """

    order = models.ForeignKey(WorkOrder, models.CASCADE, null=True, blank=True, related_name="photos")
    draft_key = models.UUIDField(null=True, blank=True, db_index=True, editable=False)
    upload_key = models.UUIDField(null=True, blank=True, unique=True, editable=False)  # sent again, it is kept once
    file = models.FileField(upload_to="photos/%Y/%m")
    thumb = models.FileField(upload_to="photos/%Y/%m")
    width = models.PositiveIntegerField(default=0)
    height = models.PositiveIntegerField(default=0)
    caption = models.CharField(max_length=200, blank=True)
    step = models.CharField(max_length=30, blank=True)  # worksheet step, or empty for book-in
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(order=None, draft_key__isnull=False) | models.Q(order__isnull=False, draft_key=None),
                name="photo_of_an_order_or_a_draft",
            )
        ]

    def __str__(self):
        return self.caption or f"photograph {self.pk}"


class Agreement(models.TextChoices):
    PROPOSED = "proposed", "proposed"
    AGREED = "agreed", "agreed"
    DECLINED = "declined", "declined"


class Line(models.Model):
    """A line of work or a part, with its price as it was agreed."""

    order = models.ForeignKey(WorkOrder, models.CASCADE, related_name="lines")
    kind = models.CharField(max_length=8, choices=ItemKind.choices, default=ItemKind.WORK)
    item = models.ForeignKey(PriceItem, models.PROTECT, null=True, blank=True, related_name="lines", editable=False)
    text = models.CharField("what", max_length=200)
    quantity = models.DecimalField(
        max_digits=8,
        decimal_places=2,
        default=Decimal(1),
        validators=[MinValueValidator(Decimal("0.01")), MaxValueValidator(Decimal(9999))],
    )
    price = models.DecimalField(
        "price each", max_digits=9, decimal_places=2,
        validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(999999))],
    )
    tax_rate = models.DecimalField(
        "tax, %", max_digits=5, decimal_places=2,
        validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(100))],
    )
    minutes = models.PositiveIntegerField(
        "minutes estimated", default=0, validators=[MaxValueValidator(LONGEST_MINUTES)]
    )
    agreement = models.CharField(max_length=8, choices=Agreement.choices, default=Agreement.PROPOSED)
    agreed_at = models.DateTimeField(null=True, blank=True, editable=False)
    agreed_how = models.CharField(max_length=80, blank=True, editable=False)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.text


class Hold(models.Model):
    """Something that keeps an order from being checked, such as an unsigned worksheet. Free when `lifted_at` is set."""

    order = models.ForeignKey(WorkOrder, models.CASCADE, related_name="holds")
    key = models.CharField(max_length=40)
    reason = models.CharField(max_length=200)
    since = models.DateTimeField()
    lifted_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["order", "key"], condition=models.Q(lifted_at=None), name="hold_once_while_open"
            )
        ]

    def __str__(self):
        return self.reason


class Event(models.Model):
    """What happened to an order, when, and by whom. Written by services, never changed."""

    order = models.ForeignKey(WorkOrder, models.CASCADE, related_name="events")
    at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")
    what = models.CharField(max_length=30)  # a stable word: booked_in, moved, line_added, mailed …
    text = models.CharField(max_length=1000)  # the sentence that people read
    data = models.JSONField(default=dict, blank=True)

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["order", "id"], name="event_order")]

    def __str__(self):
        return self.text

