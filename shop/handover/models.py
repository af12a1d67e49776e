"""Papers as they were sent, and the mail that carries them: queued with the data, sent by a worker."""

import hashlib

from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models.functions import Lower

from shop.billing.models import Invoice
from shop.handover.collection_models import CollectionDay, CollectionReminder  # noqa: F401 (Django's way in)
from shop.handover.querysets import OutgoingMailQuerySet, PaperQuerySet
from shop.orders.models import WorkOrder
from shop.people.models import Customer

PERSON = settings.AUTH_USER_MODEL


class PaperKind(models.TextChoices):
    RECEIPT = "receipt", "intake receipt"
    QUOTE = "quote", "quote"
    INVOICE = "invoice", "invoice"
    CREDIT_NOTE = "credit_note", "credit note"
    HANDOVER = "handover", "handover sheet"
    STATEMENT = "statement", "statement"
    REMINDER = "reminder", "reminder"


ABOUT_MONEY = (PaperKind.INVOICE, PaperKind.CREDIT_NOTE, PaperKind.QUOTE, PaperKind.STATEMENT, PaperKind.REMINDER)


class PaperDamaged(Exception):
    """The kept file is gone or is not what was kept. The message is a sentence for people."""


class Paper(models.Model):
    """The exact PDF that was made, kept; never changed or made anew."""

    order = models.ForeignKey(WorkOrder, models.PROTECT, related_name="papers")
    kind = models.CharField(max_length=12, choices=PaperKind.choices)
    name = models.CharField(max_length=120)  # the file's name as the customer sees it
    file = models.FileField(upload_to="papers/%Y/%m")
    sha256 = models.CharField(max_length=64)
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")
    # What it is the only paper of, such as invoice:12 or receipt:7; empty where there may be several.
    about = models.CharField(max_length=60, blank=True)

    objects = PaperQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.UniqueConstraint(fields=["about"], condition=~models.Q(about=""), name="one_paper_about_it")
        ]

    def __str__(self):
        return self.name

    def read(self):
        """The bytes as they were kept. Raises PaperDamaged when they are not there or not the same any more."""
        try:
            with self.file.open("rb") as file:
                content = file.read()
        except OSError as error:
            raise PaperDamaged(f"The file of {self.name} is missing from the workshop's files.") from error
        if hashlib.sha256(content).hexdigest() != self.sha256:
            raise PaperDamaged(f"The file of {self.name} is not the one that was kept.")
        return content

    def delete(self, *args, **kwargs):
        raise ValidationError("A paper that was made is kept.")


class MailState(models.TextChoices):
    WAITING = "waiting", "waiting"
    SENT = "sent", "sent"
    FAILED = "failed", "failed"
    WITHDRAWN = "withdrawn", "withdrawn"


UNSENT = (MailState.FAILED, MailState.WITHDRAWN)


class OutgoingMail(models.Model):
    """One mail to one person. A worker claims it until `claimed_until`, so that two workers never send it twice."""

    name = models.CharField(max_length=30)  # receipt, quote, ready … : the function that wrote it
    order = models.ForeignKey(WorkOrder, models.PROTECT, null=True, blank=True, related_name="mails")
    customer = models.ForeignKey(Customer, models.PROTECT, null=True, blank=True, related_name="mails")
    to = models.EmailField()
    to_name = models.CharField(max_length=120, blank=True)
    sender = models.CharField(max_length=400)
    reply_to = models.EmailField(blank=True)
    subject = models.CharField(max_length=200)
    text = models.TextField()
    html = models.TextField(blank=True)
    papers = models.ManyToManyField(Paper, blank=True, related_name="mails")
    makes = models.CharField(max_length=12, blank=True)  # a kind of paper that the worker makes before it sends
    message_id = models.CharField(max_length=200, unique=True)
    state = models.CharField(max_length=9, choices=MailState.choices, default=MailState.WAITING)
    attempts = models.PositiveSmallIntegerField(default=0)  # since it was last put in the queue
    cut_offs = models.PositiveSmallIntegerField(default=0)  # likewise: attempts whose outcome nobody knows
    next_try_at = models.DateTimeField()
    claim = models.UUIDField(null=True, blank=True, editable=False)
    claimed_until = models.DateTimeField(null=True, blank=True, editable=False)
    last_error = models.CharField(max_length=500, blank=True)
    queued_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)
    is_local = models.BooleanField(default=False)  # put in this machine's outbox, since no server was named
    by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")

    objects = OutgoingMailQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        indexes = [
            models.Index(fields=["state", "next_try_at"], name="mail_due"),
            models.Index(fields=["state", "-id"], name="mail_in_state"),
            models.Index(Lower("to"), name="mail_to"),
        ]

    def __str__(self):
        return self.subject

    @property
    def may_have_gone_twice(self):
        """Whether an attempt was cut off before its outcome was known, and another one went."""
        return self.state == MailState.SENT and any(one.was_cut_off for one in self.tries.all())


class MailTry(models.Model):
    """One attempt to send, written before the server is spoken to; while it has no end its outcome is not known."""

    mail = models.ForeignKey(OutgoingMail, models.CASCADE, related_name="tries")
    claim = models.UUIDField(unique=True)
    begun_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)
    outcome = models.CharField(max_length=500, blank=True)  # 'sent', or why not
    was_cut_off = models.BooleanField(default=False)

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return self.outcome or "begun"


class SilencedAddress(models.Model):
    """An address that nothing is sent to: it was refused for good, or somebody asked for it."""

    address = models.EmailField(unique=True)  # in lower case
    reason = models.CharField(max_length=500)
    since = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["-since"]
        verbose_name_plural = "silenced addresses"

    def __str__(self):
        return self.address


class MailWording(models.Model):
    """Words of the shop's own for one of its mails; without a row the usual ones hold. See handover.wordings."""

    name = models.CharField(max_length=30, unique=True)
    subject = models.CharField(max_length=150)
    body = models.TextField(max_length=4000)
    days = models.PositiveSmallIntegerField(null=True, blank=True)  # of a reminder: after the one before
    changed_at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")

    def __str__(self):
        return self.name


class Reminder(models.Model):
    """That an invoice was reminded of, for the `level`-th time."""

    invoice = models.ForeignKey(Invoice, models.PROTECT, related_name="reminders")
    level = models.PositiveSmallIntegerField()  # 1 first, 3 last
    sent_on = models.DateField()
    open_amount = models.DecimalField(max_digits=11, decimal_places=2)
    # How it went, by mail or as a letter; neither once the customer was erased.
    mail = models.ForeignKey(OutgoingMail, models.SET_NULL, null=True, related_name="+")
    letter = models.ForeignKey(Paper, models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["level"]
        constraints = [
            models.UniqueConstraint(fields=["invoice", "level"], name="one_reminder_a_level"),
            models.CheckConstraint(condition=models.Q(level__gte=1, level__lte=3), name="reminder_level_known"),
        ]

    def __str__(self):
        return f"reminder {self.level}"
