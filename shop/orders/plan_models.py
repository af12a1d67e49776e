"""When the bench works, and who may read its calendar."""

from decimal import Decimal

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from shop.staff.models import Branch

PERSON = settings.AUTH_USER_MODEL
WEEKDAYS = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"]


class BenchHours(models.Model):
    """How long a bench works on a day of the week; a day that is not here works as the workshop's details say.

    Without a branch they hold wherever a branch has not said anything else.
    """

    branch = models.ForeignKey(Branch, models.CASCADE, null=True, blank=True, related_name="bench_hours")
    weekday = models.PositiveSmallIntegerField(choices=list(enumerate(WEEKDAYS)))
    hours = models.DecimalField(
        max_digits=4, decimal_places=1, validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(200))]
    )  # of everybody at the bench together

    class Meta:
        ordering = ["weekday"]
        verbose_name_plural = "bench hours"
        constraints = [
            models.UniqueConstraint(fields=["branch", "weekday"], name="hours_once_a_branch"),
            models.UniqueConstraint(fields=["weekday"], condition=models.Q(branch=None), name="hours_once_for_all"),
        ]

    def __str__(self):
        return f"{self.get_weekday_display()}: {self.hours}"


class ClosedDays(models.Model):
    """Days on which nobody works at the bench, the first and the last included; without a branch, at none."""

    branch = models.ForeignKey(Branch, models.CASCADE, null=True, blank=True, related_name="closed_days")
    first = models.DateField("from")
    last = models.DateField("to", help_text="The same day for a single one.")
    name = models.CharField("what for", max_length=80)

    class Meta:
        ordering = ["first", "pk"]
        verbose_name_plural = "closed days"
        constraints = [
            models.CheckConstraint(condition=models.Q(last__gte=models.F("first")), name="closed_days_in_order")
        ]

    def __str__(self):
        return self.name

    def clean(self):
        if self.first and self.last and self.last < self.first:
            raise ValidationError({"last": "The last day is before the first."})


class CalendarFeed(models.Model):
    """A person's private address of the promise calendar."""

    person = models.OneToOneField(PERSON, models.CASCADE, related_name="calendar_feed")
    key = models.CharField(max_length=43, unique=True, editable=False)
    made_at = models.DateTimeField()

    def __str__(self):
        return f"calendar of {self.person}"
