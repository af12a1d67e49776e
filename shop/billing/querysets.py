"""Questions about sets of invoices and payments, in the words of the shop."""

import re
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import models

from shop.billing.states import InvoiceState
from shop.lib import parts
from shop.lib.money import rounded
from shop.lib.paging import apart
from shop.orders.models import WorkOrder
from shop.orders.querysets import number_said
from shop.people.models import Customer
from shop.staff.branching import within
from shop.staff.models import CREDIT_PREFIX, Workshop

ZERO = Decimal("0.00")
MOST_FOUND = 200  # orders that a search for a number looks through
# Of an invoice, a credit note or an order, or its beginning: what it begins with, year, the branch's mark, count.
NUMBER = re.compile(r"([A-Z][A-Z0-9-]{0,5}?)?([0-9]{2})[.\-–/]?([A-Z]{0,3})([0-9]{0,8})")


def exact(found):
    """A sum of amounts to the cent. SQLite adds in binary: over ten thousand rows that is a hundred-millionth off."""
    return rounded(found or ZERO)


def _number_said(said, workshop):
    """A condition: the invoice's or its order's number is what was said, or begins so."""
    read = NUMBER.fullmatch(said)
    if not read:
        return models.Q(pk__in=[])
    letters, year, mark, count = read.groups(default="")
    found = models.Q()
    for prefix in [letters] if letters else [(workshop or Workshop.here()).invoice_prefix, CREDIT_PREFIX]:
        rest = f"{mark}{count}"
        found |= models.Q(number__begins=f"{prefix}{year}-{rest}" if rest else prefix + year)
        if count:
            found |= models.Q(number=f"{prefix}{year}-{mark}{int(count):04d}")
    orders = WorkOrder.objects.filter(number_said(year + mark + count)).values_list("pk", flat=True)
    newest = apart(orders.order_by("-pk"))[:MOST_FOUND]  # of a year's at most; the index of the numbers has the keys
    return found if letters else found | models.Q(order__in=list(newest))


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
        return self.filter(balance__due_on__isnull=False).order_by("balance__due_on", "balance__invoice_id")

    def overdue(self, *, today):
        return self.unpaid().filter(balance__due_on__lt=today)

    def in_state(self, state):
        """Newest first, by the order in which they were begun: one index finds and sorts them."""
        if state == InvoiceState.DRAFT:
            return self.drafts().order_by("-pk")
        return self.filter(balance__state=state).order_by("-balance__invoice_id")

    def issued_between(self, first, last):
        rows = self.filter(issued_on__gte=first) if first else self
        return rows.filter(issued_on__lte=last) if last else rows

    def matching(self, text, *, most=parts.MOST):
        """By the invoice's or the order's number, said whole or from its start, or by the customer's name; `most` as
        for Customer.matching."""
        return self.of_customers_or_number(text, Customer.objects.keys_matching(text, most=most))

    def of_customers_or_number(self, text, customers, *, workshop=None):
        number = _number_said("".join(text.split()).upper(), workshop)
        return self.filter(models.Q(customer__in=customers) | number)

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
