"""What the pages and panels of the hand-over show."""

from dataclasses import dataclass

from shop.billing.account import Account, account_of
from shop.handover import mails
from shop.handover.models import ABOUT_MONEY, OutgoingMail, Paper
from shop.handover.services import what_is_open
from shop.orders.models import Agreement
from shop.orders.states import State

MOST_OTHERS = 20
COLLECTABLE = (State.READY, State.UNCOLLECTED, State.DECLINED)


@dataclass(frozen=True)
class ReadyPage:
    """What making ready would do."""

    account: Account
    why_not: str  # why it cannot be made ready now; '' when it can
    why_not_mailed: str


def ready_page(order, workshop):
    held = order.holds.filter(lifted_at=None).first()
    why_not = ""
    if order.state != State.CHECKED:
        why_not = f"The order is {State(order.state).label}; it becomes ready once its work is checked."
    elif held:
        why_not = f"Something still holds this order: {held.reason}."
    return ReadyPage(account_of(order, workshop), why_not, mails.why_not(order.customer))


@dataclass(frozen=True)
class CollectPage:
    account: Account
    why_not: str
    open_said: str  # what is open between customer and workshop; '' when nothing
    goes_back_as_it_came: bool
    others: list  # what else of this customer's is in the workshop
    collectable = COLLECTABLE

    @property
    def others_said(self):
        """`One more of Mara Fell's is here`."""
        count = len(self.others)
        many = {1: "One more", 2: "Two more", 3: "Three more"}.get(count, f"{count} more")
        return f"{many} of this customer’s {'is' if count == 1 else 'are'} here"


def collect_page(order, workshop):
    account = account_of(order, workshop)
    why_not = "" if order.state in COLLECTABLE else f"An order that is {State(order.state).label} is not handed over."
    others = order.customer.orders.open().with_parties().exclude(pk=order.pk).order_by("pk")[:MOST_OTHERS]
    return CollectPage(account, why_not, what_is_open(account), order.state == State.DECLINED, list(others))


@dataclass(frozen=True)
class PapersPanel:
    papers: tuple
    mails: tuple
    may_quote: bool


def papers_panel(order, capabilities):
    """Papers and mails of an order, newest first; papers about money only for those who see money."""
    sees_money = "see money" in capabilities
    kept = Paper.objects.of_order(order).select_related("made_by")
    papers = tuple(one for one in kept if sees_money or one.kind not in ABOUT_MONEY)
    sent = tuple(OutgoingMail.objects.of_order(order)) if "see mail" in capabilities else ()
    return PapersPanel(papers, sent, "bill" in capabilities and _has_proposed(order))


def _has_proposed(order):
    return any(line.agreement == Agreement.PROPOSED for line in order.lines.all())
