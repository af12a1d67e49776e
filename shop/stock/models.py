"""The price list, and the shelf behind it: suppliers, and every movement of a part.

What is on hand is the sum of an item's movements and stands nowhere else; a movement is only ever added.
"""

from decimal import Decimal

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from shop.staff.models import Branch

NOT_BELOW_ZERO = [MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(999999))]
COUNT = {"max_digits": 8, "decimal_places": 2}
MOST = Decimal(9999)
LONGEST_MINUTES = 60 * 24 * 5  # of work, for one line


def exact(found):
    """A sum of counts to the hundredth. SQLite adds in binary."""
    return found.quantize(Decimal("0.01"))


class ItemKind(models.TextChoices):
    WORK = "work", "work"
    PART = "part", "part"
    STRINGS = "strings", "string set"


ON_SHELF = (ItemKind.PART, ItemKind.STRINGS)


class Supplier(models.Model):
    """Whom parts are ordered from."""

    name = models.CharField(max_length=120, unique=True)
    email = models.EmailField("e-mail", blank=True, help_text="Orders are written to this address.")
    phone = models.CharField("telephone", max_length=40, blank=True)
    website = models.CharField(max_length=120, blank=True)
    customer_number = models.CharField("our customer number", max_length=40, blank=True)
    notes = models.TextField(max_length=1000, blank=True, help_text="Smallest order, days to deliver, who to ask for.")

    class Meta:
        ordering = ["name"]

    def __str__(self):
        return self.name


class PriceItemQuerySet(models.QuerySet):
    def offered(self):
        return self.filter(retired=False)

    def on_shelf(self):
        """Parts and string sets: what is counted."""
        return self.filter(kind__in=ON_SHELF)

    def in_place_order(self):
        """As somebody walks along the shelf."""
        return self.order_by("place", "name", "pk")

    def matching(self, text):
        """By name, supplier's number, supplier or place, each word of it somewhere."""
        found = self
        for word in text.split()[:8]:
            found = found.filter(
                models.Q(name__icontains=word)
                | models.Q(supplier_code__icontains=word)
                | models.Q(place__icontains=word)
                | models.Q(supplier__name__icontains=word)
            )
        return found

    def as_listed(self):
        """Work first, then parts, then strings; each by name as people read it. A list."""
        return sorted(self, key=lambda one: (ItemKind.values.index(one.kind), one.name.casefold()))


class PriceItem(models.Model):
    kind = models.CharField(max_length=8, choices=ItemKind.choices, default=ItemKind.WORK)
    name = models.CharField(max_length=120, unique=True)
    price = models.DecimalField(
        max_digits=9, decimal_places=2, validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(999999))]
    )
    tax_rate = models.DecimalField(
        "tax rate, %",
        max_digits=5,
        decimal_places=2,
        validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(100))],
    )
    usual_minutes = models.PositiveIntegerField(default=0, validators=[MaxValueValidator(LONGEST_MINUTES)])
    retired = models.BooleanField("no longer offered", default=False)
    cost = models.DecimalField(
        "cost each, without tax", max_digits=9, decimal_places=2, null=True, blank=True, validators=NOT_BELOW_ZERO
    )
    supplier = models.ForeignKey(Supplier, models.PROTECT, null=True, blank=True, related_name="items")
    supplier_code = models.CharField("supplier's number for it", max_length=60, blank=True)
    place = models.CharField("where it lies", max_length=40, blank=True)
    reorder_at = models.DecimalField("reorder at", **COUNT, null=True, blank=True, validators=NOT_BELOW_ZERO)
    order_up_to = models.DecimalField("order up to", **COUNT, null=True, blank=True, validators=NOT_BELOW_ZERO)
    on_order = models.DecimalField(**COUNT, default=Decimal(0), editable=False)  # sent for, not come yet
    ordered_on = models.DateField(null=True, blank=True, editable=False)

    objects = PriceItemQuerySet.as_manager()

    class Meta:
        ordering = ["kind", "name"]

    def __str__(self):
        return self.name

    @property
    def is_on_shelf(self):
        return self.kind in ON_SHELF

    def clean(self):
        if self.reorder_at is not None and self.order_up_to is not None and self.order_up_to < self.reorder_at:
            raise ValidationError({"order_up_to": "Order up to at least as many as it is reordered at."})


class OtherShelf(models.Model):
    """How a branch other than the first keeps an item. The first branch's place and marks stand on the item itself."""

    item = models.ForeignKey(PriceItem, models.CASCADE, related_name="other_shelves")
    branch = models.ForeignKey(Branch, models.PROTECT, related_name="other_shelves")
    place = models.CharField("where it lies", max_length=40, blank=True)
    reorder_at = models.DecimalField("reorder at", **COUNT, null=True, blank=True, validators=NOT_BELOW_ZERO)
    order_up_to = models.DecimalField("order up to", **COUNT, null=True, blank=True, validators=NOT_BELOW_ZERO)
    on_order = models.DecimalField(**COUNT, default=Decimal(0), editable=False)
    ordered_on = models.DateField(null=True, blank=True, editable=False)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["item", "branch"], name="other_shelf_once")]
        verbose_name_plural = "other shelves"

    def __str__(self):
        return f"{self.item} at {self.branch}"


class MovementKind(models.TextChoices):
    RECEIVED = "received", "received"
    USED = "used", "used on an order"
    RETURNED = "returned", "put back from an order"
    COUNTED = "counted", "counted"
    SENT_BACK = "sent_back", "sent back to the supplier"
    SENT_ON = "sent_on", "sent to another branch"
    CAME_ON = "came_on", "came from another branch"


class MovementQuerySet(models.QuerySet):
    def at(self, branch):
        """Those of the shelf of `branch`; of a workshop without branches (None), all."""
        return self if branch is None else self.filter(branch=branch)


class Movement(models.Model):
    """Some of an item came to the shelf (above zero) or left it (below). Never changed, never deleted.

    Each says what lies there `after` it, the sum of all there were: nobody adds up the movements of years to see that.
    This room lies below the orders, so an order is named by its number and a line of it by its key.
    """

    item = models.ForeignKey(PriceItem, models.PROTECT, related_name="movements")
    branch = models.ForeignKey(Branch, models.PROTECT, related_name="movements", db_index=False)
    kind = models.CharField(max_length=9, choices=MovementKind.choices)
    quantity = models.DecimalField(**COUNT, validators=[MinValueValidator(-MOST), MaxValueValidator(MOST)])
    after = models.DecimalField(max_digits=12, decimal_places=2)
    counted = models.DecimalField(**COUNT, null=True, blank=True)  # what a count found
    cost = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)  # each, as it was then
    order_number = models.CharField(max_length=16, blank=True, db_index=True)
    line_key = models.PositiveBigIntegerField(null=True, blank=True, db_index=True)
    note = models.CharField(max_length=200, blank=True)
    key = models.UUIDField(unique=True)  # one press of the button is one movement
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+")

    objects = MovementQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        indexes = [
            models.Index(fields=["item", "-id"], name="movement_of_item"),
            models.Index(fields=["item", "branch", "-id"], name="movement_of_shelf"),
            models.Index(fields=["item", "-id"], name="movement_counted", condition=models.Q(kind="counted")),
            models.Index(fields=["at"], name="movement_at"),
        ]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(quantity=0) | models.Q(kind="counted"), name="movement_not_nothing"
            ),
            models.CheckConstraint(
                condition=models.Q(kind="counted", counted__isnull=False)
                | (~models.Q(kind="counted") & models.Q(counted=None)),
                name="count_says_what_it_found",
            ),
        ]

    def __str__(self):
        return f"{self.quantity:+} {self.item}"

    def save(self, *args, **kwargs):
        if self.pk is not None:
            raise ValidationError("A movement never changes; write another one.")
        super().save(*args, **kwargs)

    def delete(self, *args, **kwargs):
        raise ValidationError("A movement is never deleted; write another one.")
