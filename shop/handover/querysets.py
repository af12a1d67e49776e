"""Questions about sets of papers and mails, in the words of the shop."""

import re
from datetime import timedelta

from django.core.exceptions import ValidationError
from django.db import models

from shop.orders.models import WorkOrder
from shop.people.models import Customer
from shop.staff.branching import reach

FARTHEST_TRY = timedelta(days=2)  # far longer than any wait between two tries
MOST_FOUND = 200  # customers or orders that a search looks through
NUMBER = re.compile(r"[0-9][0-9-]*")  # of an order, or its beginning


def _together(order):
    """The keys of all orders of its visit, which an index finds: with "or" across them every row would be read."""
    return WorkOrder.objects.of_visit(order).order_by().values("pk")


class PaperQuerySet(models.QuerySet):
    def of_order(self, order):
        """The order's own papers, and the receipt of the visit in which it came. Statements are about others, too."""
        own = models.Q(order=order) & ~models.Q(kind="statement")
        return self.filter(own | models.Q(kind="receipt"), order__in=_together(order))

    def delete(self):
        raise ValidationError("A paper that was made is kept.")

    def erase(self):
        """Papers go only when the person on them is to be erased."""
        return super().delete()

    def about_one_of(self, those):
        """`those` are what papers may be about, or a question for them. An index of the others would be no help."""
        return self.filter(about__in=those).exclude(about="")

    def about(self, what):
        return self.about_one_of([what]).first()


class OutgoingMailQuerySet(models.QuerySet):
    def of_order(self, order):
        """The order's own mails, and that with the receipt of the visit in which it came."""
        return self.filter(models.Q(order=order) | models.Q(name="receipt"), order__in=_together(order))

    def with_parties(self):
        return self.select_related("order", "customer", "by").prefetch_related("papers", "tries")

    def for_person(self, person):
        """Those about orders that `person` sees, and those about none."""
        keys = reach(person)
        return self if keys is None else self.filter(models.Q(order=None) | models.Q(order__branch__in=keys))

    def due(self, *, at):
        """Waiting mails whose time has come and that no worker holds, the longest waiting first.

        A try that is farther away than any wait was set by a clock that ran ahead: with it, it would never come.
        """
        free = models.Q(claimed_until=None) | models.Q(claimed_until__lt=at)
        come = models.Q(next_try_at__lte=at) | models.Q(next_try_at__gt=at + FARTHEST_TRY)
        return self.filter(free, come, state="waiting").order_by("next_try_at", "pk")

    def failed(self):
        """Given up, the newest first."""
        return self.filter(state="failed").order_by("-pk")

    def matching(self, text):
        """By address, order number or the customer's name."""
        text = text.strip()
        if "@" in text:
            return self.filter(to__in_any_case=text)
        if NUMBER.fullmatch(text):
            orders = WorkOrder.objects.filter(number__gte=text, number__lt=text + "\uffff").values_list("pk", flat=True)
            return self.filter(order__in=list(orders[:MOST_FOUND]))
        customers = Customer.objects.matching(text).values_list("pk", flat=True)[:MOST_FOUND]
        return self.filter(customer__in=list(customers))
