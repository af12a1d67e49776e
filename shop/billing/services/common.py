"""What several of the money services need."""

from shop.billing.models import Balance
from shop.billing.states import UNPAID, InvoiceState, standing
from shop.orders import services as orders
from shop.orders.states import State
from shop.staff.branching import place_of
from shop.staff.models import Workshop

# An invoice follows the work: it is issued once that is done, or the instrument goes back as it came.
BILLABLE = (State.CHECKED, State.READY, State.UNCOLLECTED, State.DECLINED, State.COLLECTED)


class MoneyRefused(orders.NotAllowed):
    """What was asked cannot be done with the money as it stands. The message is a sentence for people.

    `field` names the argument that it is about, for the form to say it there.
    """

    def __init__(self, message, field=None):
        super().__init__(message)
        self.field = field


def locked(order):
    """(the order as it stands now, locked until the transaction ends; the workshop as it stands at its branch)."""
    held = orders.locked(order)
    return held, place_of(held, Workshop.here())


def settle(order):
    """Write how each issued paper of the order stands now. Called last in whatever changes it."""
    received = order.payments.received()
    for paper in order.invoices.issued().select_related("credit_note"):
        Balance.objects.update_or_create(invoice=paper, defaults=_standing_of(paper, received))


def _standing_of(paper, received):
    if paper.is_credit_note:
        return {"state": InvoiceState.CREDIT_NOTE, "received": 0, "open_amount": 0, "due_on": None}
    if paper.is_credited:
        return {"state": InvoiceState.CREDITED, "received": 0, "open_amount": 0, "due_on": None}
    state = standing(total=paper.total, received=received, is_credited=False)
    due_on = paper.due_on if state in UNPAID else None
    return {"state": state, "received": received, "open_amount": paper.total - received, "due_on": due_on}
