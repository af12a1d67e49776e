"""What is known of an instrument that is ready and waits to be collected."""

from django.db import models

from shop.orders.models import WorkOrder


class CollectionReminder(models.Model):
    """That a customer was reminded of their instrument for the `count`-th time."""

    order = models.ForeignKey(WorkOrder, models.PROTECT, related_name="collection_reminders")
    count = models.PositiveSmallIntegerField()
    sent_on = models.DateField()
    mail = models.ForeignKey("handover.OutgoingMail", models.SET_NULL, null=True, related_name="+")
    at = models.DateTimeField()

    class Meta:
        ordering = ["order", "count"]
        constraints = [models.UniqueConstraint(fields=["order", "count"], name="one_collection_reminder_a_count")]

    def __str__(self):
        return f"reminder {self.count} of {self.order}"


class CollectionDay(models.Model):
    """The day on which the customer said they come."""

    order = models.OneToOneField(WorkOrder, models.CASCADE, related_name="collection_day")
    day = models.DateField()

    def __str__(self):
        return f"{self.order}: {self.day}"
