"""How long it took: what tablets saw, and what somebody said."""

from django.conf import settings
from django.db import models

from shop.worksheets.models.sheets import Worksheet

PERSON = settings.AUTH_USER_MODEL


class WorkSpan(models.Model):
    """A stretch of time that one tablet saw somebody at work on a step. It grows while the work goes on."""

    worksheet = models.ForeignKey(Worksheet, models.CASCADE, related_name="spans")
    client_id = models.UUIDField(unique=True)
    step = models.CharField(max_length=30)
    began_at = models.DateTimeField()
    ended_at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["began_at", "pk"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(ended_at__gte=models.F("began_at")), name="span_ends_after_it_began"
            )
        ]

    def __str__(self):
        return f"{self.step} {self.began_at:%H:%M}"


class TimeByHand(models.Model):
    """Somebody says how long a step had taken until `at`; what the tablets see after that is added. Only ever added."""

    worksheet = models.ForeignKey(Worksheet, models.CASCADE, related_name="times_by_hand")
    step = models.CharField(max_length=30)
    seconds = models.PositiveIntegerField()
    at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"{self.step} {self.seconds} s"
