"""Work that the plan found, offered to the customer as a line of the order; it waits for an answer like any other."""

from django.db import transaction

from shop.orders import services as orders
from shop.worksheets.plan.warnings import WORK
from shop.worksheets.services.common import locked, note
from shop.worksheets.services.errors import Refused


@transaction.atomic
def offer_work(worksheet, *, work, by, item=None, price=None, tax_rate=None):
    """Write the work as a proposed line, from the price list's `item` or freely at `price`; the same twice is once.

    Returns (the line, whether it is new). Raises Refused, a sentence, when the order takes no more lines.
    """
    order = locked(worksheet).order
    wanted = WORK[work]
    there = order.lines.filter(text__in=[wanted.text, *([item.name] if item else [])]).first()
    if there:
        return there, False
    new = orders.NewLine.of(item) if item else orders.NewLine(wanted.text, price, tax_rate, kind=wanted.kind)
    try:
        (line,) = orders.add_lines(order, [new], by=by)
    except orders.NotAllowed as problem:
        raise Refused(str(problem)) from problem
    note(worksheet, by=by, what="work_offered", text=f"The plan of the worksheet asked for it: {line.text}.",
         line=line.pk)  # fmt: skip
    return line, True
