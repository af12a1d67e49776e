"""Papers as they were sent, and the mail that carries them: queued with the data, sent by a worker."""

from django.conf import settings
from django.core.exceptions import ValidationError
from django.db import models

from shop.orders.models import WorkOrder
from shop.people.models import Customer

PERSON = settings.AUTH_USER_MODEL


class PaperKind(models.TextChoices):
    RECEIPT = "receipt", "intake receipt"
    INVOICE = "invoice", "invoice"
    CREDIT_NOTE = "credit_note", "credit note"
    HANDOVER = "handover", "handover sheet"


class Paper(models.Model):
    """The exact PDF that was made, kept; never changed or made anew."""

    order = models.ForeignKey(WorkOrder, models.PROTECT, related_name="papers")
    kind = models.CharField(max_length=12, choices=PaperKind.choices)
    name = models.CharField(max_length=120)  # the file's name as the customer sees it
    file = models.FileField(upload_to="papers/%Y/%m")
    sha256 = models.CharField(max_length=64)
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")
    about = models.CharField(max_length=60, blank=True)  # such as invoice:12 or worksheet:7

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return self.name

    def delete(self, *args, **kwargs):
        raise ValidationError("A paper that was made is kept.")


class MailState(models.TextChoices):
    WAITING = "waiting", "waiting"
    SENT = "sent", "sent"
    FAILED = "failed", "failed"


class OutgoingMail(models.Model):
    """One mail to one person. A worker claims it until `claimed_until`, so that two workers never send it twice."""

    name = models.CharField(max_length=30)  # receipt, quote, ready … : the function that wrote it
    order = models.ForeignKey(WorkOrder, models.PROTECT, null=True, blank=True, related_name="mails")
    customer = models.ForeignKey(Customer, models.PROTECT, null=True, blank=True, related_name="mails")
    to = models.EmailField()
    subject = models.CharField(max_length=200)
    text = models.TextField()
    html = models.TextField(blank=True)
    papers = models.ManyToManyField(Paper, blank=True, related_name="mails")
    message_id = models.CharField(max_length=200, unique=True)
    state = models.CharField(max_length=8, choices=MailState.choices, default=MailState.WAITING)
    attempts = models.PositiveSmallIntegerField(default=0)
    next_try_at = models.DateTimeField()
    claimed_until = models.DateTimeField(null=True, blank=True)
    last_error = models.CharField(max_length=500, blank=True)
    queued_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)
    by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")

    class Meta:
        ordering = ["-pk"]
        indexes = [models.Index(fields=["state", "next_try_at"], name="mail_due")]

    def __str__(self):
        return self.subject
