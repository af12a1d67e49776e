"""What an order's own page shows."""

from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property
from itertools import groupby

from django.db.models import prefetch_related_objects

from shop.lib import money
from shop.lib.dates import today
from shop.orders.forms.details import AnswerForm, BranchForm, NoteForm, PromiseForm, RackForm
from shop.orders.forms.lines import OneLineForm, PickForm
from shop.orders.forms.marks import MarkWithFileForm
from shop.orders.marks import numbered
from shop.orders.models import Agreement, WorkOrder
from shop.orders.querysets import DONE
from shop.orders.services import offered_moves
from shop.orders.shelf import LINES
from shop.orders.states import CLOSED, State
from shop.stock.models import PriceItem


def _rows(order, name):
    return getattr(order, name).all() if getattr(order, f"has_{name}", True) else ()


ROUTINE = frozenset({"step_done", "step_skipped", "step_open", "time_set", "reading_chosen", "reading_undone"})
FEWEST_FOLDED = 3


@dataclass(frozen=True)
class Passage:
    """Events that follow each other; `folded` are a worksheet's routine, shown when somebody asks for them."""

    events: list
    folded: bool


def folded(events):
    """The history as Passages: three and more routine lines in a row become one."""
    passages = []
    for routine, run in groupby(events, key=lambda event: event.what in ROUTINE):
        run = list(run)
        passages.append(Passage(run, routine and len(run) >= FEWEST_FOLDED))
    return passages


@dataclass(frozen=True)
class OrderPage:
    """`forms` are those that were not taken, by name; `moving` is the state that was asked for in vain."""

    order: WorkOrder
    lines: list
    marks: list
    photos: list
    events: list
    holds: list
    together: list  # the other instruments of the same visit
    forms: dict = field(default_factory=dict)
    moving: str = ""

    @classmethod
    def of(cls, order, *, forms=None, moving=""):
        """Seven queries at most, and those of the moves' guards. Lines and holds are kept with the order, for whoever
        asks next; what the order was fetched with word of that it has none (`with_word_of`) is not asked for.
        """
        prefetch_related_objects([order], LINES, "holds")
        marks = numbered(_rows(order, "marks"), order.instrument.hand)
        shown_with_marks = {one.mark.photo_id for one in marks}
        return cls(
            order=order,
            lines=list(order.lines.all()),
            marks=marks,
            photos=[photo for photo in _rows(order, "photos") if photo.pk not in shown_with_marks],
            events=list(order.events.select_related("by")),
            holds=[one for one in order.holds.all() if one.lifted_at is None],
            together=list(WorkOrder.objects.filter(branch=order.branch_id).with_parties().together_with(order)),
            forms=forms or {},
            moving=moving,
        )

    @property
    def history(self):
        return folded(self.events)

    @property
    def moves(self):
        return offered_moves(self.order)

    @property
    def is_late(self):
        promised = self.order.promised_on
        return bool(promised) and promised < today() and self.order.state not in DONE

    @property
    def is_closed(self):
        return self.order.state in CLOSED

    @property
    def lines_are_open(self):
        return not (self.order.lines_fixed_by or self.is_closed)

    @property
    def undecided(self):
        return [line for line in self.lines if line.agreement == Agreement.PROPOSED]

    @property
    def agreed_total(self):
        return self._total(Agreement.AGREED)

    @property
    def proposed_total(self):
        return self._total(Agreement.PROPOSED)

    def _total(self, answer):
        lines = [line for line in self.lines if line.agreement == answer]
        return sum((money.rounded(line.price * line.quantity) for line in lines), Decimal("0.00"))

    @property
    def next_step(self):
        """What has to happen next, a sentence."""
        state = State(self.order.state)
        if self.undecided and state not in (State.DECLINED, State.COLLECTED):
            count = len(self.undecided)
            lines = "One line waits" if count == 1 else f"{count} lines wait"
            return f"{lines} for the customer's answer."
        return NEXT[state]

    @cached_property
    def offered(self):
        """What is on the price list, read once for both lists to choose from."""
        return list(PriceItem.objects.offered().order_by("-kind", "name")) if self.lines_are_open else []

    @property
    def form(self):
        """The page's forms by name: the one that was not taken, else a fresh one."""
        fresh = {
            "answer": AnswerForm(),
            "branch": BranchForm(order=self.order),
            "line": OneLineForm(prefix="line"),
            "mark": MarkWithFileForm(prefix="mark"),
            "note": NoteForm(),
            "pick": PickForm(prefix="pick").offering(self.offered),
            "promise": PromiseForm(initial={"promised_on": self.order.promised_on}),
            "rack": RackForm(initial={"rack_slot": self.order.rack_slot}),
        }
        return fresh | self.forms


NEXT = {
    State.BOOKED_IN: "Look it over, write down the work, and agree it with the customer.",
    State.ASSESSED: "Write down the work with its price, and ask the customer.",
    State.QUOTED: "Ask the customer for an answer to the quote.",
    State.AGREED: "Put it on the bench.",
    State.ON_BENCH: "Do the work and sign its worksheet off.",
    State.WAITING_PARTS: "Get the parts, then put it back on the bench.",
    State.WAITING_CUSTOMER: "Ask the customer again, then put it back on the bench.",
    State.CHECKED: "Make it ready: invoice and handover sheet are made, and the customer is told.",
    State.READY: "Hand it over when the customer comes.",
    State.COLLECTED: "Nothing: it is with its owner.",
    State.DECLINED: "Give it back as it came.",
    State.UNCOLLECTED: "Reach the customer; what may be done with uncollected goods is local law.",
}
