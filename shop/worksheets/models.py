"""Worksheets, their readings and what was decided about them.

Readings are only ever added. The newest one of a place (stage, step, key, string) that stands is the one that holds;
the others are its history. A worksheet keeps a snapshot of the targets and of the specification it was made from.
"""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from shop.instruments.kinds import MAX_STRINGS, BridgeFamily, Kind, Stringing
from shop.orders.models import WorkOrder
from shop.worksheets.families import family_for

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


class Worksheet(models.Model):
    order = models.ForeignKey(WorkOrder, models.PROTECT, related_name="worksheets")
    family = models.CharField(max_length=16, choices=BridgeFamily.choices)
    stringing = models.CharField(max_length=8, choices=Stringing.choices, default=Stringing.THROUGH)
    profile_name = models.CharField(max_length=80)
    targets = models.JSONField()  # key → [low, high], null for an open end
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
    watch = models.TextField("what to watch", max_length=1000, blank=True)
    next_check_on = models.DateField("next check", null=True, blank=True)

    class Meta:
        ordering = ["-started_at", "-pk"]

    def __str__(self):
        return f"worksheet of {self.order}"

    @property
    def is_signed(self):
        return self.signed_at is not None

    @property
    def family_plan(self):
        """The steps and readings of this worksheet's bridge family, or None."""
        return family_for(self.family)


class Stage(models.TextChoices):
    RECEIVED = "received", "as received"
    BENCH = "bench", "at the bench"
    LEFT = "left", "as left"


class Standing(models.TextChoices):
    HOLDS = "holds", "holds"
    RIVAL = "rival", "typed elsewhere at the same time"  # waits for somebody to choose
    SET_ASIDE = "set_aside", "not chosen"
    UNDONE = "undone", "undone"
    UNREADABLE = "unreadable", "could not be read as a value"


class Reading(models.Model):
    """One reading as it was typed, with who, when and which gauge. `client_id` never saves twice."""

    worksheet = models.ForeignKey(Worksheet, models.CASCADE, related_name="readings")
    client_id = models.UUIDField(unique=True)
    stage = models.CharField(max_length=8, choices=Stage.choices)
    step = models.CharField(max_length=30)
    key = models.CharField(max_length=40)
    string = models.PositiveSmallIntegerField(
        null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(MAX_STRINGS)]
    )
    raw = models.CharField(max_length=200, blank=True)
    value = models.FloatField(null=True, blank=True)  # mm, degrees or cents; empty: a text, or withdrawn
    gauge = models.CharField(max_length=20, blank=True)
    standing = models.CharField(max_length=10, choices=Standing.choices, default=Standing.HOLDS)
    problem = models.CharField(max_length=300, blank=True)  # why it could not be read, in a sentence
    at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.PROTECT, related_name="+")
    replaces = models.ForeignKey("self", models.PROTECT, null=True, blank=True, related_name="replaced_by")

    class Meta:
        ordering = ["pk"]
        indexes = [models.Index(fields=["worksheet", "id"], name="reading_order")]

    def __str__(self):
        return f"{self.key} {self.raw}"

    @property
    def place(self):
        return (self.stage, self.step, self.key, self.string)


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
