"""What was read. Readings are only ever added.

The newest one of a place (stage, step, key, string) that stands is the one that holds; the others are its history.
"""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from shop.instruments.kinds import MAX_STRINGS
from shop.worksheets.models.sheets import Worksheet

PERSON = settings.AUTH_USER_MODEL


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
