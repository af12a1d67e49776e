"""Worksheets, their readings and what was decided about them.

Readings are only ever added. The newest one of a place (stage, step, key, string) that stands is the one that holds;
the others are its history. A worksheet keeps a snapshot of the targets and of the specification it was made from.
"""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from geometry.uncertainty import GUARD_FACTORS
from shop.instruments.kinds import MAX_STRINGS, BridgeFamily, Kind, Stringing
from shop.instruments.models import Instrument
from shop.orders.models import WorkOrder
from shop.people.models import Customer
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
    unit = models.CharField(max_length=6, blank=True)  # what a bare length was taken to be in; empty: not a length
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
