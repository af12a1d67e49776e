"""A worksheet, with its own copy of targets and specification."""

from django.conf import settings
from django.db import models

from shop.instruments.kinds import BridgeFamily, Stringing
from shop.orders.models import WorkOrder
from shop.worksheets.families import family_for
from shop.worksheets.models.ranges import Rule

PERSON = settings.AUTH_USER_MODEL


class Worksheet(models.Model):
    order = models.ForeignKey(WorkOrder, models.PROTECT, related_name="worksheets")
    family = models.CharField(max_length=16, choices=BridgeFamily.choices)
    stringing = models.CharField(max_length=8, choices=Stringing.choices, default=Stringing.THROUGH)
    profile_name = models.CharField(max_length=80)
    targets = models.JSONField()  # key → [low, high], null for an open end; the player's own ones are in it
    taste = models.JSONField(default=dict, blank=True)  # {"words": text, "keys": {key: "instrument" or "customer"}}
    rule = models.CharField(max_length=10, choices=Rule.choices, default=Rule.FULL)
    spec = models.JSONField()  # key → {"value": number or null, "assumed": bool}
    # Bass to treble: [{"number", "midi", "material", "diameter_mm", "core_mm", "assumed"}].
    strings = models.JSONField()
    threads = models.JSONField(default=dict)  # post, stud, saddle → name or ""
    reference_pitch_hz = models.FloatField(default=440.0)
    started_at = models.DateTimeField()
    started_by = models.ForeignKey(PERSON, models.PROTECT, related_name="+")
    signed_at = models.DateTimeField(null=True, blank=True)
    signed_by = models.ForeignKey(PERSON, models.PROTECT, null=True, blank=True, related_name="+")
    outcome = models.JSONField(default=dict, blank=True)  # findings and drawings' numbers as they stood at sign-off
    # How long it took, as `time_spent` reckons it: kept at sign-off, and when a tablet tells later of work before it.
    spent_seconds = models.PositiveIntegerField(default=0)
    watch = models.TextField("what to watch", max_length=1000, blank=True)
    next_check_on = models.DateField("next check", null=True, blank=True)

    class Meta:
        ordering = ["-started_at", "-pk"]
        indexes = [
            models.Index(fields=["started_at"], name="worksheet_started"),
            models.Index(fields=["signed_at"], name="worksheet_signed"),
        ]

    def __str__(self):
        return f"worksheet of {self.order}"

    @property
    def is_signed(self):
        return self.signed_at is not None

    @property
    def family_plan(self):
        """The steps and readings of this worksheet's bridge family, or None."""
        return family_for(self.family)
