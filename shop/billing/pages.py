"""What the pages and panels about money show."""

from dataclasses import dataclass

from shop.billing.account import Account, account_of
from shop.billing.forms import DiscountForm, GiveBackForm, ReceiveForm, TreatmentForm, UndoForm
from shop.billing.models import Invoice
from shop.billing.services.common import BILLABLE
from shop.billing.states import UNPAID, InvoiceState
from shop.billing.treatments import why_not
from shop.lib.dates import today
from shop.lib.paging import counted


@dataclass(frozen=True)
class Standing:
    """How an invoice stands, in words; amiss when it is overdue, or when too much was paid."""

    word: str
    is_amiss: bool = False
    is_fine: bool = False


def standing_of(invoice, *, on=None):
    """The Standing of an invoice, draft or credit note."""
    if not invoice.is_issued:
        return Standing(InvoiceState.DRAFT.label)
    state = InvoiceState(invoice.balance.state)
    if state in UNPAID and invoice.due_on < (on or today()):
        return Standing(f"{state.label}, overdue", is_amiss=True)
    if invoice.balance.open_amount < 0:
        return Standing("paid, too much", is_amiss=True)
    return Standing(state.label, is_fine=state == InvoiceState.PAID)


@dataclass(frozen=True)
class MoneyPage:
    account: Account
    may_issue: bool
    receive: ReceiveForm
    give_back: GiveBackForm
    discount: DiscountForm
    treatment: TreatmentForm
    why_taxed: str  # why it cannot be billed without tax, a sentence
    undo: UndoForm
    undone_pk: int | None  # the payment whose undoing was not taken


def money_page(
    order, workshop, *, receive=None, give_back=None, discount=None, treatment=None, undo=None, undone_pk=None
):
    """The page of an order's money; a form that was not taken is given back as it was typed."""
    account = account_of(order, workshop)
    draft = account.draft
    given = {"percent": draft.discount_percent, "reason": draft.discount_reason} if draft else {}
    return MoneyPage(
        account=account,
        may_issue=account.is_billable and order.state in BILLABLE,
        receive=receive or ReceiveForm(initial={"amount": account.to_pay or None}),
        give_back=give_back or GiveBackForm(initial={"amount": account.to_give_back or None}),
        discount=discount or DiscountForm(initial=given),
        treatment=treatment or TreatmentForm(initial={"treatment": account.treatment}),
        why_taxed=why_not(order.customer, workshop),
        undo=undo or UndoForm(),
        undone_pk=undone_pk,
    )


def csv_rows(invoices):
    """Head and rows of the invoices as a table; amounts plain, credit notes below zero."""
    for one in invoices:
        balance = getattr(one, "balance", None)
        yield (
            one.number or "", one.get_kind_display(), one.issued_on or "", one.due_on or "", one.customer.shown,
            one.order.number, one.currency, one.net, one.tax, one.total, balance.received if balance else "",
            balance.open_amount if balance else "", balance.get_state_display() if balance else "draft",
        )  # fmt: skip


CSV_HEADS = (
    "number", "kind", "issued on", "due on", "customer", "order", "currency", "net", "tax", "total", "received",
    "open", "standing",
)  # fmt: skip


def unpaid(person, limit=8):
    """(the longest due unpaid invoices that `person` sees, how many there are)."""
    rows = Invoice.objects.for_person(person).unpaid().with_parties()
    return list(rows[:limit]), counted(rows)
