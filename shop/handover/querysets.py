"""Questions about sets of papers and mails, in the words of the shop."""

from django.core.exceptions import ValidationError
from django.db import models

from shop.people.models import Customer

MOST_CUSTOMERS = 200


class PaperQuerySet(models.QuerySet):
    def delete(self):
        raise ValidationError("A paper that was made is kept.")

    def about(self, what):
        return self.filter(about=what).first()


class OutgoingMailQuerySet(models.QuerySet):
    def with_parties(self):
        return self.select_related("order", "customer", "by").prefetch_related("papers", "tries")

    def due(self, *, at):
        """Waiting mails whose time has come and that no worker holds, the longest waiting first."""
        free = models.Q(claimed_until=None) | models.Q(claimed_until__lt=at)
        return self.filter(free, state="waiting", next_try_at__lte=at).order_by("next_try_at", "pk")

    def matching(self, text):
        """By address, order number or the customer's name."""
        text = text.strip()
        if "@" in text:
            return self.filter(to__iexact=text)
        if any(letter.isdigit() for letter in text):
            start = text.upper()
            return self.filter(order__number__gte=start, order__number__lt=start + "\uffff")
        customers = Customer.objects.matching(text).values_list("pk", flat=True)[:MOST_CUSTOMERS]
        return self.filter(customer__in=list(customers))
