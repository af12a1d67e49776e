"""Instruments, their measured specification and the strings on them."""

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from shop.instruments.kinds import MAX_STRINGS, MIN_STRINGS, BridgeFamily, Hand, Kind, Material, Stringing
from shop.instruments.merge_models import InstrumentMerge  # noqa: F401 (Django's way in)
from shop.lib import parts
from shop.lib.folding import folded, phone_guesses, serial_key
from shop.lib.quantities import THREAD_CHOICES
from shop.people.models import LONGEST_KEY, Customer

MOST_ALIKE = 4
LEAST_OF_A_SERIAL = 3  # fewer letters and figures single nothing out


class InstrumentQuerySet(models.QuerySet):
    def keys_matching(self, text, *, most=parts.MOST):
        """The keys of all instruments, the newest first, whose maker, model, serial number, colour or owner contain
        what somebody remembers."""
        words = parts.words_of(folded(text))
        key = serial_key(text)[: parts.LONGEST_WORD]
        guesses = [[digits] for digits in phone_guesses(text)] if words else []
        serial = [[key]] if len(key) >= LEAST_OF_A_SERIAL else []
        return parts.keys_of(Instrument.objects.using(self.db), [words, *serial, *guesses], most=most)

    def matching(self, text, *, most=parts.MOST):
        """Which of these instruments `text` may mean; `most` as for `keys_of`."""
        return self.filter(pk__in=self.keys_matching(text, most=most))

    def with_serial(self, text):
        """Instruments with this serial number, whatever its spacing and dashes."""
        key = serial_key(text)
        return self.filter(serial_key=key) if len(key) >= LEAST_OF_A_SERIAL else self.none()

    def perhaps_the_same(self, instrument):
        """Instruments with the same serial number of the same maker; one that names no maker may be of any."""
        maker = folded(instrument.maker)
        same = self.with_serial(instrument.serial).exclude(pk=instrument.pk).select_related("customer")[:MOST_ALIKE]
        return [one for one in same if not maker or folded(one.maker) in ("", maker)]


class Instrument(models.Model):
    customer = models.ForeignKey(Customer, models.PROTECT, related_name="instruments")
    kind = models.CharField(max_length=10, choices=Kind.choices, default=Kind.ELECTRIC)
    string_count = models.PositiveSmallIntegerField(
        "strings", default=6, validators=[MinValueValidator(MIN_STRINGS), MaxValueValidator(MAX_STRINGS)]
    )
    family = models.CharField(
        "bridge", max_length=16, choices=BridgeFamily.choices, default=BridgeFamily.TWO_POST_STOP
    )
    hand = models.CharField(max_length=5, choices=Hand.choices, default=Hand.RIGHT)
    maker = models.CharField(max_length=80, blank=True)
    model_name = models.CharField("model", max_length=80, blank=True)
    serial = models.CharField("serial number", max_length=60, blank=True)
    colour = models.CharField(max_length=60, blank=True)
    year = models.CharField("year made", max_length=20, blank=True)
    notes = models.TextField(max_length=2000, blank=True)
    taste = models.TextField("how this player likes it", max_length=1000, blank=True)
    stringing = models.CharField(max_length=8, choices=Stringing.choices, default=Stringing.THROUGH)
    post_thread = models.CharField("bridge post thread", max_length=10, choices=THREAD_CHOICES, blank=True)
    stud_thread = models.CharField("tailpiece stud thread", max_length=10, choices=THREAD_CHOICES, blank=True)
    saddle_thread = models.CharField("saddle screw thread", max_length=10, choices=THREAD_CHOICES, blank=True)
    serial_key = models.CharField(max_length=60, blank=True, editable=False, db_index=True)
    search_key = models.CharField(max_length=LONGEST_KEY, blank=True, editable=False, db_index=True)
    created_at = models.DateTimeField(auto_now_add=True)

    objects = InstrumentQuerySet.as_manager()

    class Meta:
        ordering = ["maker", "model_name", "pk"]
        indexes = [models.Index(fields=["maker", "model_name", "id"], name="instrument_named")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(string_count__gte=MIN_STRINGS, string_count__lte=MAX_STRINGS),
                name="instrument_string_count",
            )
        ]

    def __str__(self):
        return " ".join(part for part in (self.maker, self.model_name) if part) or self.get_kind_display()

    def remember_keys(self):
        """What it is found by follows from what it says; whoever writes rows past `save` calls this first."""
        self.serial_key = serial_key(self.serial)
        said = folded(" ".join([self.maker, self.model_name, self.serial, self.serial_key, self.colour]))
        self.search_key = f"{said} {self.customer.search_key}".strip()[:LONGEST_KEY]

    def save(self, *args, **kwargs):
        self.remember_keys()
        fields = kwargs.get("update_fields")
        if fields is not None:
            kwargs["update_fields"] = {*fields, "serial_key", "search_key"}
        super().save(*args, **kwargs)


class SpecValue(models.Model):
    """One measured value of the specification. The newest row of a key holds; the older ones are its history."""

    instrument = models.ForeignKey(Instrument, models.CASCADE, related_name="spec_values")
    key = models.CharField(max_length=30)
    value = models.FloatField(null=True, help_text="In the field's own unit; empty means not known any more.")
    raw = models.CharField(max_length=40, blank=True)
    at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["-pk"]
        indexes = [models.Index(fields=["instrument", "key", "-id"], name="spec_newest")]

    def __str__(self):
        return f"{self.key} {self.value}"


class InstrumentString(models.Model):
    """One string as fitted. Number 1 is the highest."""

    instrument = models.ForeignKey(Instrument, models.CASCADE, related_name="strings")
    number = models.PositiveSmallIntegerField(validators=[MinValueValidator(1), MaxValueValidator(MAX_STRINGS)])
    midi = models.PositiveSmallIntegerField("note", validators=[MaxValueValidator(127)])
    material = models.CharField(max_length=14, choices=Material.choices, default=Material.PLAIN_STEEL)
    diameter_mm = models.FloatField(validators=[MinValueValidator(0.1), MaxValueValidator(5.0)])
    core_mm = models.FloatField(null=True, blank=True, validators=[MinValueValidator(0.1), MaxValueValidator(3.0)])
    assumed = models.BooleanField(default=False)

    class Meta:
        ordering = ["number"]
        constraints = [models.UniqueConstraint(fields=["instrument", "number"], name="instrument_string_once")]

    def __str__(self):
        return f"string {self.number}"

    def clean(self):
        if self.core_mm is not None and self.diameter_mm is not None and self.core_mm >= self.diameter_mm:
            raise ValidationError({"core_mm": "The core must be thinner than the whole string."})
