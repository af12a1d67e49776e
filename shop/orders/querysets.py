"""Questions about sets of work orders, in the words of the shop."""

import re

from django.db import models

from shop.lib.folding import digits_of, folded, phone_guesses
from shop.orders.states import AT_BENCH, NOT_STARTED, OPEN, TO_DO, WAITING, State
from shop.staff.branching import within

DONE = (State.CHECKED, State.READY, State.COLLECTED, State.DECLINED, State.UNCOLLECTED)
MOST_WORDS = 8


class WorkOrderQuerySet(models.QuerySet):
    def with_parties(self):
        return self.select_related("customer", "instrument", "branch")

    def for_person(self, person):
        """Those of the branches that `person` sees."""
        return within(self, person)

    def at(self, branch):
        """Those of `branch`; of a workshop without branches (None), all."""
        return self if branch is None else self.filter(branch=branch)

    def of_visit(self, order):
        """All that came with `order`, itself included, as it was booked in."""
        return self.filter(visit=order.visit).order_by("pk")

    def together_with(self, order):
        """The other instruments that came in the same visit."""
        return self.of_visit(order).exclude(pk=order.pk)

    def open(self):
        return self.filter(state__in=OPEN)

    def to_do(self):
        """Whose work the bench has still to find time for."""
        return self.filter(state__in=TO_DO)

    def at_bench(self):
        """Agreed or under work, the nearest promise first; without a promise last."""
        return self.filter(state__in=AT_BENCH).order_by(
            "-priority", models.F("promised_on").asc(nulls_last=True), "booked_at"
        )

    def not_started(self):
        """Taken in, but nothing agreed yet; the longest wait first."""
        return self.filter(state__in=NOT_STARTED).order_by("booked_at")

    def waiting(self):
        return self.filter(state__in=WAITING).order_by("state_since")

    def ready(self):
        return self.filter(state__in=[State.READY, State.UNCOLLECTED]).order_by("state_since")

    def late(self, *, today):
        return self.filter(promised_on__lt=today).exclude(state__in=DONE).order_by("promised_on", "pk")

    def promised_between(self, first, last):
        """Promised for a day from `first` to `last` and not done yet."""
        due = self.filter(promised_on__gte=first, promised_on__lte=last).exclude(state__in=DONE)
        return due.order_by("promised_on", "pk")

    def minutes_estimated(self):
        """The minutes that the orders' lines are estimated at, without those that were declined."""
        counted = ~models.Q(lines__agreement="declined")
        return self.aggregate(total=models.Sum("lines__minutes", filter=counted))["total"] or 0

    def matching(self, text):
        """Orders by number as said or scanned, or by their customer or instrument."""
        words = folded(text).split()[:MOST_WORDS]
        if not words:
            return self.none()
        found = models.Q()
        for word in words:
            found &= models.Q(customer__search_key__contains=word) | models.Q(instrument__search_key__contains=word)
        number = re.sub(r"[^0-9]", "", text)
        if 3 <= len(number) <= 8:
            found |= models.Q(number__contains=number) | models.Q(number=f"{number[:2]}-{number[2:]}")
        if len(digits_of(text)) >= 6:
            for digits in phone_guesses(text):
                found |= models.Q(customer__phone_digits__contains=digits)
        return self.filter(found)
