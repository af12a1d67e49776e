"""Questions about sets of work orders, in the words of the shop."""

import re

from django.db import models

from shop.instruments.models import Instrument
from shop.lib import lookups, parts  # noqa: F401 (number__begins)
from shop.lib.dates import today
from shop.lib.folding import folded
from shop.orders.states import AT_BENCH, NOT_STARTED, OPEN, TO_DO, WAITING, State
from shop.people.models import Customer
from shop.staff.branching import within

DONE = (State.CHECKED, State.READY, State.COLLECTED, State.DECLINED, State.UNCOLLECTED)
STILL_OPEN = {"closed_at": None}  # as the index of the open orders says it, a small one among years of orders
NUMBER = re.compile(r"[0-9.\-–/]{1,10}")  # as somebody says one, without its blanks
MARKED = re.compile(r"(?:([0-9]{2})[.\-–/]?)?([A-Z]{1,3})([0-9]{1,6})")  # `26-H0147`, `26h147` or `h147`
LEAST_BEGUN, LONGEST_NUMBER = 3, 16
YEARS = 20  # in which a count that is said without its year is looked for


class WorkOrderQuerySet(models.QuerySet):
    def with_parties(self):
        return self.select_related("customer", "instrument", "branch")

    def with_word_of(self, *names):
        """Each with `has_photos` and the like for these relations: a page need not ask for what is not there."""
        of = {name: self.model._meta.get_field(name).related_model for name in names}
        return self.annotate(**{
            f"has_{name}": models.Exists(model.objects.order_by().filter(order=models.OuterRef("pk")))
            for name, model in of.items()
        })  # fmt: skip

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
        return self.filter(**STILL_OPEN, state__in=OPEN)

    def to_do(self):
        """Whose work the bench has still to find time for."""
        return self.filter(**STILL_OPEN, state__in=TO_DO)

    def at_bench(self):
        """Agreed or under work, the nearest promise first; without a promise last."""
        return self.filter(**STILL_OPEN, state__in=AT_BENCH).order_by(
            "-priority", models.F("promised_on").asc(nulls_last=True), "booked_at"
        )

    def not_started(self):
        """Taken in, but nothing agreed yet; the longest wait first."""
        return self.filter(**STILL_OPEN, state__in=NOT_STARTED).order_by("booked_at")

    def waiting(self):
        return self.filter(**STILL_OPEN, state__in=WAITING).order_by("state_since")

    def ready(self):
        return self.filter(**STILL_OPEN, state__in=[State.READY, State.UNCOLLECTED]).order_by("state_since")

    def late(self, *, today):
        return self.to_do().filter(promised_on__lt=today).order_by("promised_on", "pk")

    def promised_between(self, first, last):
        """Promised for a day from `first` to `last` and not done yet."""
        due = self.to_do().filter(promised_on__gte=first, promised_on__lte=last)
        return due.order_by("promised_on", "pk")

    def minutes_estimated(self):
        """The minutes that the orders' lines are estimated at, without those that were declined."""
        counted = ~models.Q(lines__agreement="declined")
        return self.aggregate(total=models.Sum("lines__minutes", filter=counted))["total"] or 0

    def matching(self, text, *, most=parts.MOST):
        """Orders by number as said or scanned, or by their customer or instrument, of which at most `most` are looked
        at; None: all of them."""
        return self.of_parties_or_number(text, parties_matching(text, most=most)) if folded(text) else self.none()

    def of_parties_or_number(self, text, parties):
        customers, instruments = parties
        whose = models.Q(customer__in=customers) | models.Q(instrument__in=instruments)
        return self.filter(whose | number_said(text))


def parties_matching(text, *, most=parts.MOST):
    """(keys of customers, keys of instruments) that `text` may mean."""
    return tuple(one.objects.keys_matching(text, most=most) for one in (Customer, Instrument))


def number_said(text):
    """A condition: the number is `text`, begins so, or is that of some year; with a branch's mark or without."""
    said = "".join(text.split()).upper()
    if marked := MARKED.fullmatch(said):
        return _number_with_mark(*marked.groups(default=""))
    digits = re.sub(r"\D", "", said)
    if not NUMBER.fullmatch(said) or not digits:
        return models.Q(number__begins=said) if digits and len(said) <= LONGEST_NUMBER else models.Q(pk__in=[])
    found = models.Q(number__in=_of_years(digits))
    if len(digits) >= LEAST_BEGUN:
        found |= models.Q(number__begins=f"{digits[:2]}-{digits[2:]}")
    return found


def _number_with_mark(year, mark, count):
    if not year:
        return models.Q(number__in=_of_years(count, mark))
    found = models.Q(number__begins=f"{year}-{mark}{count}")
    return found | models.Q(number=f"{year}-{mark}{int(count):04d}") if count else found


def _of_years(count, mark=""):
    """The numbers of this count in each of the last years."""
    this = today().year
    return [f"{year % 100:02d}-{mark}{int(count):04d}" for year in range(this, this - YEARS, -1)]
