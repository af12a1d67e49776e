"""Writing a line down, and keeping the order from leaving the bench while a line has no answer."""

from shop.orders.models import Agreement, Line
from shop.orders.services.common import hold, lift, note

UNDECIDED = "lines"  # the key of the hold while a line waits for its answer


def write_line(order, new, *, by):
    """A new line of the order, proposed until the customer answers. Called inside a service's transaction."""
    line = Line.objects.create(
        order=order, kind=new.kind, text=new.text, quantity=new.quantity, price=new.price, tax_rate=new.tax_rate,
        minutes=new.minutes, item_id=new.item_id,
    )  # fmt: skip
    note(order, by=by, what="line_added", text=f"Proposed: {line.text}.", line=line.pk, price=str(line.price))
    return line


def hold_while_undecided(order):
    """Work nobody has agreed to must not leave the bench unnoticed."""
    if order.lines.filter(agreement=Agreement.PROPOSED).exists():
        hold(order, key=UNDECIDED, reason="a line of work is neither agreed nor declined")
    else:
        lift(order, key=UNDECIDED)
