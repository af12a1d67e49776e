"""Open worksheets judged anew."""

from django.conf import settings
from django.db import models

from shop.worksheets.models.ranges import Rule

PERSON = settings.AUTH_USER_MODEL


class Recheck(models.Model):
    """All open worksheets judged anew by today's profiles, tastes and rule, a part at a time."""

    class State(models.TextChoices):
        RUNNING = "running", "running"
        STOPPED = "stopped", "stopped"
        FINISHED = "finished", "finished"
        TAKEN = "taken", "taken over"

    rule = models.CharField(max_length=10, choices=Rule.choices)
    sheets = models.JSONField(default=list)  # ids, in the order in which they are judged
    done = models.PositiveIntegerField(default=0)
    changes = models.JSONField(default=list)  # what `rechecking.Change` says, JSON-ready
    state = models.CharField(max_length=8, choices=State.choices, default=State.RUNNING)
    at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return f"re-check of {len(self.sheets)}"
