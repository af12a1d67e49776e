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


def bench(orders, person, *, today):
    """(to do, waiting) of a page of orders, as the bench shows them. Three queries whatever their number."""
    jobs = queries.bench_jobs(orders, person)
    prefetch_related_objects([one.worksheet for one in jobs if one.worksheet], "marks")
    reasons = _reasons([one.order.pk for one in jobs if one.waits_for])
    shown = [_shown(one, reasons, today) for one in jobs]
    return [one for one in shown if not one.job.waits_for], [one for one in shown if one.job.waits_for]


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
