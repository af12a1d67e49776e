"""Parts of an order: taken from the shelf for its lines, put back, and what the shelf has to keep for them."""

from decimal import Decimal

from django.db import transaction
from django.db.models import F, OuterRef, Subquery, Sum
from django.db.models.functions import Coalesce, Greatest

from shop.orders.models import Agreement, Line, WorkOrder
from shop.orders.services.common import NotAllowed, locked, need_open_lines, note
from shop.orders.services.writing import hold_while_undecided, write_line
from shop.orders.states import CLOSED, OPEN, State
from shop.stock import services as shelf
from shop.stock.models import ON_SHELF, Movement, exact
from shop.stock.services.shelf import taken_for

GONE = (*CLOSED, State.DECLINED)  # nothing is kept for these any more
NEEDING = tuple(sorted(set(OPEN) - set(GONE)))
NONE = Decimal(0)


@transaction.atomic
def take(line, *, by, key=None):
    """What is still missing of the line's part leaves the shelf. Returns the shelf's Outcome."""
    held = locked(line.order)
    line = Line.objects.select_for_update(of=("self",)).select_related("item").get(pk=line.pk)
    if held.state in GONE:
        raise NotAllowed(f"The order is {State(held.state).label}; nothing is taken for it any more.")
    if line.item is None or not line.item.is_on_shelf:
        raise NotAllowed("This line is no part of the shelf.")
    missing = _missing(line)
    if missing <= 0:
        raise NotAllowed(f"All of “{line.text}” was taken from the shelf already.")
    return _take(held, line, missing, by=by, key=key)


@transaction.atomic
def put_back(line, *, by, key=None):
    """All that was taken for the line goes back to the shelf. Returns the shelf's Outcome."""
    held = locked(line.order)
    line = Line.objects.select_for_update(of=("self",)).select_related("item").get(pk=line.pk)
    outcome = put_back_all(held, line, by=by, key=key)
    if outcome is None:
        raise NotAllowed(f"Nothing was taken from the shelf for “{line.text}”.")
    return outcome


def put_back_all(order, line, *, by, key=None):
    """What was taken for the line goes back, inside another service's transaction. The Outcome, or None for nothing."""
    taken = taken_for([line.pk]).get(line.pk, NONE)
    if taken <= 0:
        return None
    outcome = shelf.put_back(
        line.item, taken, order_number=order.number, line_key=line.pk, by=by, branch=order.branch, key=key
    )
    note(order, by=by, what="part_back", text=f"Back on the shelf: {line.text}.", line=line.pk)
    return outcome


@transaction.atomic
def use_part(order, new_line, *, by, key=None):
    """Use a part on the order: of a line that has it agreed, or else of a new line, which the customer is asked for.

    `new_line` is a NewLine of an item of the shelf. Returns (line, the shelf's Outcome).
    """
    held = locked(order)
    need_open_lines(held)
    for line in held.lines.select_for_update().filter(item=new_line.item_id).exclude(agreement=Agreement.DECLINED):
        if _missing(line) == new_line.quantity:
            return line, _take(held, line, new_line.quantity, by=by, key=key)
    line = write_line(held, new_line, by=by)
    hold_while_undecided(held)
    return line, _take(held, line, new_line.quantity, by=by, key=key)


def take_agreed(order, *, by):
    """What was agreed and is still on the shelf by the books leaves it: with the check the work is done."""
    lines = list(order.lines.select_related("item").filter(agreement=Agreement.AGREED, item__kind__in=ON_SHELF))
    taken = taken_for([line.pk for line in lines])
    for line in lines:
        missing = line.quantity - taken.get(line.pk, NONE)
        if missing > 0:
            _take(order, line, missing, by=by)


def _missing(line):
    return line.quantity - taken_for([line.pk]).get(line.pk, NONE)


def _take(order, line, quantity, *, by, key=None):
    outcome = shelf.use(
        line.item, quantity, order_number=order.number, line_key=line.pk, by=by, branch=order.branch, key=key
    )
    note(order, by=by, what="part_taken", text=f"Taken from the shelf: {line.text}.", line=line.pk)
    return outcome


def reserved_for(keys, branch=None):
    """{item key: what agreed lines of orders in the workshop still need of it}; for the shelf. One query."""
    # All items of the open orders: asked for by item as well, a database may begin with years of lines.
    still = _needing(branch).values("item").annotate(still=Sum(Greatest("missing", NONE)))
    asked = set(keys)
    return {item: exact(found) for item, found in still.values_list("item", "still") if item in asked}


def waiting_orders(item, branch=None):
    """[(order number, how many)] of the orders that still need `item`, the oldest first."""
    lines = _needing(branch).filter(item=item, missing__gt=0).order_by("order__booked_at", "pk")
    return list(lines.values_list("order__number", "missing"))


def _needing(branch):
    """Agreed lines of parts of orders in the workshop, or one branch of it, with what is `missing` of each."""
    gone = Movement.objects.filter(line_key=OuterRef("pk")).order_by().values("line_key").annotate(sum=Sum("quantity"))
    needing = WorkOrder.objects.open().at(branch).filter(state__in=NEEDING)
    agreed = Line.objects.filter(agreement=Agreement.AGREED, item__isnull=False, order__in=needing)
    return agreed.annotate(missing=F("quantity") + Coalesce(Subquery(gone.values("sum")), NONE)).order_by()
