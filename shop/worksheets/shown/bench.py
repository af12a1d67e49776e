"""The bench's list: who is promised what, how far each worksheet is, and what the others wait for."""

from dataclasses import dataclass

from django.db.models import prefetch_related_objects

from shop.orders.models import Event
from shop.worksheets import queries


@dataclass(frozen=True)
class JobShown:
    job: object
    steps: int
    done: int
    stale: int
    reason: str  # what it waits for, in the words of whoever said so
    is_late: bool

    @property
    def order(self):
        return self.job.order

    @property
    def worksheet(self):
        return self.job.worksheet


def bench(person, *, today, branch=None):
    """(to do, waiting) as the page of the bench, or of one branch's, shows them. Four queries whatever their number."""
    to_do, waiting = queries.bench_list(person, branch)
    prefetch_related_objects([one.worksheet for one in (*to_do, *waiting) if one.worksheet], "marks")
    reasons = _reasons([one.order.pk for one in waiting])
    return [_shown(one, reasons, today) for one in to_do], [_shown(one, reasons, today) for one in waiting]


def _reasons(orders):
    moved = Event.objects.filter(order__in=orders, what="moved").order_by("pk").values_list("order", "data")
    return {order: data.get("reason", "") for order, data in moved}


def _shown(job, reasons, today):
    plan = job.worksheet.family_plan if job.worksheet else None
    marks = list(job.worksheet.marks.all()) if job.worksheet else []
    promised = job.order.promised_on
    return JobShown(
        job=job,
        steps=len(plan.steps) if plan else 0,
        done=sum(1 for one in marks if not one.stale_because),
        stale=sum(1 for one in marks if one.stale_because),
        reason=reasons.get(job.order.pk, ""),
        is_late=promised is not None and promised < today,
    )
