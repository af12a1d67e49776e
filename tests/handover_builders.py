"""Orders whose worksheet is signed off, ready to be handed over."""

from shop.orders.models import WorkOrder
from shop.orders.states import State
from shop.worksheets import services as worksheets
from tests import money_builders
from tests import worksheet_builders as bench

# It came with too much bow, high on the low side, and sharp at the octave.
AS_IT_CAME = {
    "received.relief": 0.45, "received.height_12:6": 2.6, "received.height_12:1": 2.1, "received.octave:6": 9.0,
    "received.octave:3": -6.5,
}  # fmt: skip


def checked(counter, by, *, lines=(("Setup", "85.00"),), watch="", next_check_on=None, changes=None, **fields):
    """An order booked in by `counter`, with agreed lines and a worksheet signed off by `by`: its state is checked."""
    order = money_builders.order(counter, lines=lines, state=State.ON_BENCH, **fields)
    sheet = bench.finished(order, by, **(AS_IT_CAME if changes is None else changes))
    worksheets.sign_off(sheet, by=by, watch=watch, next_check_on=next_check_on)
    return WorkOrder.objects.select_related("customer", "instrument").get(pk=order.pk)
