"""The price list: what the workshop charges for work, parts and strings."""

from decimal import Decimal

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models


class ItemKind(models.TextChoices):
    WORK = "work", "work"
    PART = "part", "part"
    STRINGS = "strings", "string set"


class PriceItemQuerySet(models.QuerySet):
    def offered(self):
        return self.filter(retired=False)

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
    usual_minutes = models.PositiveIntegerField(default=0, validators=[MaxValueValidator(60 * 24 * 5)])
    retired = models.BooleanField("no longer offered", default=False)

    objects = PriceItemQuerySet.as_manager()

    class Meta:
        ordering = ["kind", "name"]

    def __str__(self):
        return self.name
