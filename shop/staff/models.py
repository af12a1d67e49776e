"""Who works here, the workshop's own details, and the number series that its papers are counted by."""

import hashlib
from decimal import Decimal
from functools import cached_property
from importlib import import_module
from zoneinfo import available_timezones

from django.conf import settings
from django.contrib.auth.hashers import check_password, make_password
from django.contrib.auth.models import AbstractUser
from django.contrib.sessions.base_session import AbstractBaseSession
from django.core.exceptions import ValidationError
from django.core.validators import MaxValueValidator, MinValueValidator, RegexValidator
from django.db import models

from shop.lib.folding import folded
from shop.lib.money import FORMAT_CHOICES
from shop.staff.branch_models import Branch
from shop.staff.roles import CAPABILITIES, Role
from shop.staff.view_models import KeptView  # noqa: F401 (Django's way in)


class Person(AbstractUser):
    """Somebody who signs in. `username` is what they type; `shown_name` is what papers and history show."""

    first_name = last_name = None
    shown_name = models.CharField("name", max_length=80)
    role = models.CharField(max_length=10, choices=Role.choices, default=Role.BENCH)
    pin = models.CharField(max_length=128, blank=True, editable=False)  # hashed; opens only a device left alone
    reset_asked_at = models.DateTimeField(null=True, blank=True, editable=False)  # a letter with a link is due
    branches = models.ManyToManyField(Branch, blank=True, related_name="people")  # where they work, once there are two

    REQUIRED_FIELDS = ["shown_name"]

    class Meta(AbstractUser.Meta):
        verbose_name = "person"
        verbose_name_plural = "staff"
        ordering = ["shown_name"]

    def __str__(self):
        return self.shown_name or self.username

    @property
    def capabilities(self):
        return CAPABILITIES[Role(self.role)] if self.is_active else frozenset()

    def may(self, capability):
        return capability in self.capabilities

    @cached_property
    def seen_branches(self):
        """Where they work, by name; for an owner every branch. Read once."""
        return tuple(Branch.objects.all() if self.role == Role.OWNER else self.branches.all())

    def get_full_name(self):
        return str(self)

    get_short_name = get_full_name

    def has_pin(self, text):
        return bool(self.pin) and check_password(text, self.pin)

    @staticmethod
    def hashed_pin(text):
        return make_password(text) if text else ""


CREDIT_PREFIX = "C"


class PaperSize(models.TextChoices):
    A4 = "A4", "A4"
    LETTER = "Letter", "Letter"


class LengthUnit(models.TextChoices):
    MM = "mm", "millimetres"
    INCH = "in", "inches, decimal"
    SIXTY_FOURTHS = "64ths", "64ths of an inch"


class Workshop(models.Model):
    """The shop's own details. One row; `Workshop.here()` is how everybody reads it."""

    branch = None  # it speaks for all of them; branching.Place speaks for one

    name = models.CharField(max_length=120, default="The workshop")
    address = models.TextField("postal address", max_length=400, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField("e-mail", blank=True, help_text="Customers' answers go here.")
    country = models.CharField(max_length=2, blank=True, help_text="Two letters, such as DE; invoices need it.")
    website = models.CharField(max_length=120, blank=True)
    opening_hours = models.TextField(max_length=400, blank=True)
    tax_number = models.CharField("tax number", max_length=40, blank=True, help_text="Printed on every invoice.")
    iban = models.CharField("IBAN", max_length=42, blank=True)
    bic = models.CharField("BIC", max_length=11, blank=True)
    currency = models.CharField(max_length=3, default="EUR", help_text="Three letters, such as EUR.")
    number_format = models.CharField("amounts written as", max_length=8, choices=FORMAT_CHOICES, default="1,234.50")
    tax_name = models.CharField("name of the tax", max_length=20, default="VAT")
    tax_rate = models.DecimalField(
        "usual tax rate, %",
        max_digits=5,
        decimal_places=2,
        default=Decimal("20.00"),
        validators=[MinValueValidator(Decimal(0)), MaxValueValidator(Decimal(100))],
    )
    prices_include_tax = models.BooleanField("prices include tax", default=True)
    exempt_reason = models.CharField(
        "why a rate of 0 % is charged", max_length=200, blank=True,
        help_text="Stands on the invoice beside it, such as the paragraph that exempts you.",
    )  # fmt: skip
    payment_days = models.PositiveSmallIntegerField("days to pay", default=14, validators=[MaxValueValidator(365)])
    invoice_prefix = models.CharField(
        "invoice numbers begin with",
        max_length=6,
        default="R",
        validators=[RegexValidator(r"^[A-Z0-9][A-Z0-9-]*$", "Write capital letters, figures and hyphens.")],
        help_text="R gives R26-0001. The year and the count follow by themselves.",
    )
    invoice_terms = models.TextField("terms on the invoice", max_length=1500, blank=True)
    intake_terms = models.TextField("terms at book-in", max_length=3000, blank=True)
    paper = models.CharField(max_length=6, choices=PaperSize.choices, default=PaperSize.A4)
    length_unit = models.CharField("lengths shown in", max_length=6, choices=LengthUnit.choices, default=LengthUnit.MM)
    time_zone = models.CharField(max_length=60, default="Europe/Berlin")
    reference_pitch_hz = models.FloatField(
        "reference pitch, Hz", default=440.0, validators=[MinValueValidator(380.0), MaxValueValidator(480.0)]
    )
    bench_hours_a_day = models.DecimalField(
        max_digits=4, decimal_places=1, default=Decimal("6.0"), validators=[MinValueValidator(Decimal("0.5"))]
    )
    collect_after_days = models.PositiveSmallIntegerField(
        "days until the first reminder", default=0, validators=[MaxValueValidator(365)],
        help_text="Counted from the day an instrument is ready. 0 sends none.",
    )  # fmt: skip
    collect_every_days = models.PositiveSmallIntegerField(
        "days between two reminders", default=14, validators=[MinValueValidator(1), MaxValueValidator(365)]
    )
    collect_most = models.PositiveSmallIntegerField(
        "reminders at most", default=3, validators=[MinValueValidator(1), MaxValueValidator(10)]
    )
    rack_slots = models.TextField(
        max_length=1000, blank=True, default="", help_text="One a line: the places where instruments wait."
    )

    logo = models.FileField(upload_to="logo", blank=True, editable=False)  # re-encoded; on every paper
    # Where the first set-up stands; empty when it is done or was never needed, as in the demo.
    set_up_step = models.CharField(max_length=10, blank=True, default="", editable=False)
    lock_after_minutes = models.PositiveSmallIntegerField(
        "lock a device after", default=60, validators=[MaxValueValidator(24 * 60)],
        help_text="Minutes without use; 0 never does. A PIN or the password opens it again, and nothing typed is lost.",
    )  # fmt: skip
    has_branches = models.BooleanField(default=False, editable=False)  # two or more; written by staff.branching
    owners_use_codes = models.BooleanField(
        "owners have to use a second factor", default=False,
        help_text="Whoever may see everything then needs a code from a telephone as well as the password.",
    )  # fmt: skip

    class Meta:
        verbose_name = verbose_name_plural = "workshop"

    def __str__(self):
        return self.name

    @classmethod
    def here(cls):
        """The one row, made with its defaults when there is none yet."""
        return cls.objects.first() or cls.objects.create()

    def clean(self):
        if self.time_zone not in available_timezones():
            raise ValidationError({"time_zone": "Choose a zone such as Europe/Berlin."})
        if not (len(self.currency) == 3 and self.currency.isalpha() and self.currency.isupper()):
            raise ValidationError({"currency": "Write the three capital letters of ISO 4217, such as EUR."})
        if self.invoice_prefix == CREDIT_PREFIX:
            raise ValidationError({"invoice_prefix": f"{CREDIT_PREFIX} begins the numbers of credit notes."})


class Series(models.Model):
    """A branch's run of numbers, such as this year's orders. Taken only through `numbers.next_number`."""

    branch = models.ForeignKey(Branch, models.PROTECT, related_name="series")
    key = models.CharField(max_length=40)
    last = models.PositiveIntegerField(default=0)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["branch", "key"], name="series_once_a_branch")]
        verbose_name_plural = "series"

    def __str__(self):
        return f"{self.key} {self.last}"


class SignedIn(AbstractBaseSession):
    """One device on which somebody is signed in: Django's session, with whose it is and where it was last seen."""

    person = models.ForeignKey(Person, models.CASCADE, null=True, related_name="devices")
    began_at = models.DateTimeField(null=True)
    seen_at = models.DateTimeField(null=True)
    address = models.CharField(max_length=45, blank=True)
    device = models.CharField(max_length=60, blank=True)

    class Meta:
        db_table = "staff_signedin"
        ordering = ["-seen_at"]

    @classmethod
    def get_session_store_class(cls):
        return import_module(settings.SESSION_ENGINE).SessionStore

    @property
    def mark(self):
        """A name for this device that tells nothing about its session."""
        return hashlib.sha256(self.session_key.encode()).hexdigest()[:16]


class AuditKind(models.TextChoices):
    ENTRY = "entry", "signing in"
    RIGHTS = "rights", "staff and rights"
    SETTINGS = "settings", "settings"
    MONEY = "money", "money"
    EXPORT = "export", "exports"
    IMPORT = "import", "reading in"
    DELETION = "deletion", "deletions"


class AuditEntry(models.Model):
    """Who did what that has to stay known. The database refuses to change or delete a row, whoever asks."""

    at = models.DateTimeField(db_index=True)
    kind = models.CharField(max_length=9, choices=AuditKind.choices)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="+")
    address = models.CharField(max_length=45, blank=True)
    text = models.CharField(max_length=400)
    search_key = models.CharField(max_length=600, blank=True, editable=False, db_index=True)

    class Meta:
        ordering = ["-at", "-pk"]
        indexes = [models.Index(fields=["kind", "-at"], name="audit_of_kind")]
        verbose_name_plural = "audit entries"

    def __str__(self):
        return self.text

    def save(self, *args, **kwargs):
        self.search_key = folded(self.text)[:600]
        super().save(*args, **kwargs)

    def delete(self, *args, **kwargs):
        raise ValidationError("What was done stays known.")
