"""The branches of one workshop. There is always one; a workshop with no other never hears of it."""

from decimal import Decimal

from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models

OWN_DETAILS = ("address", "phone", "email", "opening_hours", "bench_hours_a_day", "rack_slots")


class Branch(models.Model):
    """One place of the workshop. What it leaves empty of its own details is as the workshop says.

    The first branch may go without a mark; its numbers are then those of a workshop with one branch.
    """

    name = models.CharField(max_length=60, unique=True)
    mark = models.CharField(
        max_length=3, blank=True, default="", unique=True,
        validators=[RegexValidator(r"^[A-Z]{1,3}$", "Write one to three capital letters.")],
        help_text="Stands in its numbers: H gives 26-H0001.",
    )  # fmt: skip
    address = models.TextField("postal address", max_length=400, blank=True)
    phone = models.CharField("telephone", max_length=40, blank=True)
    email = models.EmailField("e-mail", blank=True)
    opening_hours = models.TextField(max_length=400, blank=True)
    bench_hours_a_day = models.DecimalField(
        max_digits=4, decimal_places=1, null=True, blank=True,
        validators=[MinValueValidator(Decimal("0.5")), MaxValueValidator(Decimal(24))],
    )  # fmt: skip
    rack_slots = models.TextField("places on the rack", max_length=1000, blank=True)
    is_active = models.BooleanField(default=True, editable=False)

    class Meta:
        ordering = ["name", "pk"]
        verbose_name_plural = "branches"

    def __str__(self):
        return self.name

    @classmethod
    def first(cls):
        """The branch that the workshop began with, made when there is none yet."""
        return cls.objects.order_by("pk").first() or cls.objects.get_or_create(mark="", defaults={"name": "Main"})[0]
