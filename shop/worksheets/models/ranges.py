"""What readings are held against: profiles, how a player likes it, and how a verdict is found."""

from django.conf import settings
from django.db import models

from geometry.uncertainty import GUARD_FACTORS
from shop.instruments.kinds import Kind
from shop.instruments.models import Instrument
from shop.people.models import Customer

PERSON = settings.AUTH_USER_MODEL


class TargetProfile(models.Model):
    """A named set of targets of the shop, for one kind of instrument."""

    name = models.CharField(max_length=80, unique=True)
    kind = models.CharField(max_length=10, choices=Kind.choices)
    is_usual = models.BooleanField("used unless another is chosen", default=False)

    class Meta:
        ordering = ["kind", "-is_usual", "name"]
        constraints = [
            models.UniqueConstraint(
                fields=["kind"], condition=models.Q(is_usual=True), name="one_usual_profile_a_kind"
            )
        ]

    def __str__(self):
        return self.name


class TargetRange(models.Model):
    """The range that a reading should lie in; an empty end is open."""

    profile = models.ForeignKey(TargetProfile, models.CASCADE, related_name="ranges")
    key = models.CharField(max_length=40)
    low = models.FloatField(null=True, blank=True)
    high = models.FloatField(null=True, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.UniqueConstraint(fields=["profile", "key"], name="one_range_a_key"),
            models.CheckConstraint(
                condition=models.Q(low=None) | models.Q(high=None) | models.Q(low__lte=models.F("high")),
                name="range_low_under_high",
            ),
        ]

    def __str__(self):
        return self.key


class Taste(models.Model):
    """How one player likes it: ranges that stand before those of the profile.

    It is kept of an instrument, or of a customer for every instrument of one kind.
    """

    customer = models.ForeignKey(Customer, models.CASCADE, null=True, blank=True, related_name="tastes")
    instrument = models.OneToOneField(Instrument, models.CASCADE, null=True, blank=True, related_name="taste_ranges")
    kind = models.CharField(max_length=10, choices=Kind.choices)
    ranges = models.JSONField(default=dict)  # key → [low, high], null for an open end
    at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(customer=None, instrument__isnull=False)
                | models.Q(customer__isnull=False, instrument=None),
                name="taste_of_a_customer_or_an_instrument",
            ),
            models.UniqueConstraint(fields=["customer", "kind"], name="one_taste_a_customer_and_kind"),
        ]

    def __str__(self):
        return f"how {self.customer or self.instrument} is liked"


class Rule(models.TextChoices):
    """How much of a gauge's uncertainty a verdict keeps away from a limit: `geometry.uncertainty.GUARD_FACTORS`."""

    FULL = "full", "clear of the limit by the gauge's whole uncertainty"
    NARROW = "iso_14253", "clear of the limit by 0.83 of it"
    SIMPLE = "simple", "the value alone decides"


assert set(Rule.values) <= GUARD_FACTORS.keys()


class BenchRules(models.Model):
    """How the shop judges from now on; one row. A worksheet that has begun keeps the rule it began with."""

    rule = models.CharField("a verdict needs a value", max_length=10, choices=Rule.choices, default=Rule.FULL)

    class Meta:
        constraints = [models.CheckConstraint(condition=models.Q(pk=1), name="one_row_of_bench_rules")]

    def __str__(self):
        return self.get_rule_display()

    @classmethod
    def here(cls):
        return cls.objects.filter(pk=1).first() or cls(pk=1)
