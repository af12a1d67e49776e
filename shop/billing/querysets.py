"""Questions about sets of invoices and payments, in the words of the shop."""

import re
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import models

from shop.billing.states import UNPAID, InvoiceState
from shop.lib.money import rounded
from shop.orders.models import WorkOrder
from shop.people.models import Customer
from shop.staff.branching import within

ZERO = Decimal("0.00")
MOST_FOUND = 200  # customers or orders that a search looks through
# Of an invoice, a credit note or an order, or its beginning; a branch's mark stands before the count.
NUMBER = re.compile(r"[RC]?[0-9][0-9-]*(-[A-Z]{1,3}[0-9]*)?")


def exact(found):
    """A sum of amounts to the cent. SQLite adds in binary: over ten thousand rows that is a hundred-millionth off."""
    return rounded(found or ZERO)


class InvoiceQuerySet(models.QuerySet):
    def delete(self):
        if self.filter(issued_at__isnull=False).exists():
            raise ValidationError("An issued invoice is never deleted; write a credit note.")
        return super().delete()

    def with_parties(self):
        return self.select_related("order", "customer", "balance")

    def for_person(self, person):
        """Those of orders that `person` sees."""
        return within(self, person, "order__branch")

    def drafts(self):
        return self.filter(issued_at=None)

    def issued(self):
        return self.filter(issued_at__isnull=False)

    def standing(self):
        """Issued invoices that no credit note has corrected."""
        return self.issued().filter(kind="invoice", credit_note=None)

    def newest_first(self):
        return self.order_by("-issued_on", "-pk")

    def unpaid(self):
        """Invoices of which something is still open, the longest due first."""
        return self.filter(balance__state__in=UNPAID).order_by("due_on", "pk")

    def overdue(self, *, today):
        return self.unpaid().filter(due_on__lt=today)

    def in_state(self, state):
        """Newest first, by the order in which they were begun: one index finds and sorts them."""
        if state == InvoiceState.DRAFT:
            return self.drafts().order_by("-pk")
        return self.filter(balance__state=state).order_by("-balance__invoice_id")

    def issued_between(self, first, last):
        rows = self.filter(issued_on__gte=first) if first else self
        return rows.filter(issued_on__lte=last) if last else rows

    def matching(self, text):
        """By the invoice's or the order's number, said whole or from its start, or by the customer's name."""
        start = text.strip().upper()
        if NUMBER.fullmatch(start):
            # Ranges, not LIKE, and the orders first: each number's own index is used, in either database.
            end = start + "\uffff"
            orders = WorkOrder.objects.filter(number__gte=start, number__lt=end).values_list("pk", flat=True)
            found = models.Q(order__in=list(orders[:MOST_FOUND]))
            return self.filter(models.Q(number__gte=start, number__lt=end) | found)
        customers = Customer.objects.matching(text).values_list("pk", flat=True)[:MOST_FOUND]
        return self.filter(customer__in=list(customers))

    def sums(self):
        """{'net', 'tax', 'total'} over these rows; credit notes count below zero."""
        found = self.aggregate(*(models.Sum(name) for name in ("net", "tax", "total")))
        return {name: exact(found[f"{name}__sum"]) for name in ("net", "tax", "total")}


class PaymentQuerySet(models.QuerySet):
    def delete(self):
        raise ValidationError("A payment is never deleted; take it back.")

    def received(self):
        """What came in less what was given back."""
        return exact(self.aggregate(sum=models.Sum("amount"))["sum"])
