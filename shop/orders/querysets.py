"""Questions about sets of work orders, in the words of the shop."""

import re

from django.db import models

from shop.lib.folding import digits_of, folded
from shop.orders.states import AT_BENCH, OPEN, State


class WorkOrderQuerySet(models.QuerySet):
    def with_parties(self):
        return self.select_related("customer", "instrument")

    def open(self):
        return self.filter(state__in=OPEN)

    def at_bench(self):
        """Agreed or under work, the nearest promise first; without a promise last."""
        return self.filter(state__in=AT_BENCH).order_by(
            "-priority", models.F("promised_on").asc(nulls_last=True), "booked_at"
        )

    def waiting(self):
        return self.filter(state__in=[State.WAITING_PARTS, State.WAITING_CUSTOMER]).order_by("state_since")

    def ready(self):
        return self.filter(state=State.READY).order_by("state_since")

    def late(self, *, today):
        done = [State.READY, State.COLLECTED, State.DECLINED, State.UNCOLLECTED]
        return self.filter(promised_on__lt=today).exclude(state__in=done).order_by("promised_on")

    def matching(self, text):
        """Orders by number as said or scanned, or by their customer or instrument."""
        if not text.strip():
            return self.none()
        number = re.sub(r"[^0-9]", "", text)
        found = models.Q()
        for word in folded(text).split():
            found &= models.Q(customer__search_key__contains=word) | models.Q(instrument__search_key__contains=word)
        if len(number) >= 3:
            found |= models.Q(number__contains=number) | models.Q(number=text.strip().upper())
        digits = digits_of(text)
        if len(digits) >= 6:
            found |= models.Q(customer__phone_digits__contains=digits.lstrip("0"))
        return self.filter(found)
