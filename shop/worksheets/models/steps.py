"""What was decided about steps and findings, and remarks."""

from django.conf import settings
from django.db import models

from shop.worksheets.models.sheets import Worksheet

PERSON = settings.AUTH_USER_MODEL


class StepMark(models.Model):
    """What was decided about one step: done, or skipped with a reason.

    `rested_on` keeps what the step's work depended on when it was marked; when that changes, the mark is stale.
    """

    worksheet = models.ForeignKey(Worksheet, models.CASCADE, related_name="marks")
    step = models.CharField(max_length=30)
    state = models.CharField(max_length=8, choices=[("done", "done"), ("skipped", "skipped")])
    reason = models.CharField(max_length=300, blank=True)
    rested_on = models.JSONField(default=dict, blank=True)
    stale_because = models.CharField(max_length=600, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["worksheet", "step"], name="one_mark_a_step")]

    def __str__(self):
        return f"{self.step} {self.state}"


class StepNote(models.Model):
    """A remark about one step. Notes are only ever added."""

    worksheet = models.ForeignKey(Worksheet, models.CASCADE, related_name="notes")
    step = models.CharField(max_length=30)
    text = models.TextField(max_length=2000)
    at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.PROTECT, related_name="+")

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.text[:60]


class Acceptance(models.Model):
    """Somebody takes an out-of-range or missing reading on themselves, by name, with a reason."""

    worksheet = models.ForeignKey(Worksheet, models.CASCADE, related_name="acceptances")
    finding = models.CharField(max_length=60)  # the finding's key, such as height_12:6
    value = models.FloatField(null=True, blank=True)  # what was accepted: a new reading needs a new acceptance
    reason = models.CharField(max_length=500)
    at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.PROTECT, related_name="+")
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    withdrawn_by = models.ForeignKey(PERSON, models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"{self.finding}: {self.reason}"
