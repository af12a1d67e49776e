"""What was put to a customer, what they answered, and the address under which they see their order."""

from django.conf import settings
from django.db import models

PERSON = settings.AUTH_USER_MODEL
ANSWERS = [("agreed", "agreed"), ("declined", "declined")]


class Quote(models.Model):
    """One version of a quote as it was sent; every version is kept, and the last one is the one that counts.

    `lines` are {line, text, quantity, price, amount, tax_rate, words}, amounts as text; `words` is the exact sentence
    that the customer agrees to. `sums` are total, net, tax, currency, tax_name, prices_include_tax and untaxed, which
    says why no tax is billed; empty as a rule.
    """

    order = models.ForeignKey("orders.WorkOrder", models.CASCADE, related_name="quotes")
    version = models.PositiveSmallIntegerField()
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")
    valid_until = models.DateField()
    lines = models.JSONField()
    sums = models.JSONField()

    class Meta:
        ordering = ["-version"]
        constraints = [models.UniqueConstraint(fields=["order", "version"], name="quote_version_once")]

    def __str__(self):
        return f"quote {self.version} of {self.order}"


class Answer(models.Model):
    """What a customer said to one line, with the exact text and the time. Written once, never changed."""

    order = models.ForeignKey("orders.WorkOrder", models.CASCADE, related_name="answers")
    line = models.ForeignKey("orders.Line", models.SET_NULL, null=True, related_name="answers")
    quote = models.ForeignKey(Quote, models.SET_NULL, null=True, blank=True, related_name="answers")
    answer = models.CharField(max_length=8, choices=ANSWERS)
    text = models.CharField(max_length=500)
    name = models.CharField(max_length=120, blank=True)  # as they signed
    how = models.CharField(max_length=80)
    at = models.DateTimeField()
    by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")  # nobody: the customer themselves

    class Meta:
        ordering = ["pk"]

    def __str__(self):
        return f"{self.answer}: {self.text}"


class CustomerLink(models.Model):
    """The address under which a customer sees this one order. It ends by itself, or when it is withdrawn."""

    order = models.ForeignKey("orders.WorkOrder", models.CASCADE, related_name="links")
    key = models.CharField(max_length=43, unique=True, editable=False)
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(PERSON, models.SET_NULL, null=True, related_name="+")
    expires_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True, blank=True)
    opened_at = models.DateTimeField(null=True, blank=True)  # the last time

    class Meta:
        ordering = ["-pk"]

    def __str__(self):
        return f"the customer's page of {self.order}"
