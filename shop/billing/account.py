"""How an order stands: what is agreed, billed, received, and still open or to be given back."""

from dataclasses import dataclass
from decimal import Decimal

from shop.billing.models import Invoice
from shop.billing.totals import Totals, totals, untaxed
from shop.billing.treatments import USUAL
from shop.orders.models import Agreement

ZERO = Decimal("0.00")


@dataclass(frozen=True)
class Account:
    """An order's money. `standing` is its issued invoice that no credit note has corrected, `draft` the next one."""

    agreed: Totals  # of the agreed lines as they stand, the draft's discount taken off
    proposed: Totals  # of the lines that nobody has agreed to yet
    invoices: tuple  # issued invoices and credit notes, oldest first
    standing: Invoice | None
    draft: Invoice | None
    payments: tuple
    received: Decimal
    currency: str
    treatment: str = USUAL  # of the draft, which is why `agreed` bears no tax

    @property
    def due(self):
        """What the customer owes in all: the invoice, or what is agreed until there is one."""
        return self.standing.total if self.standing else self.agreed.total

    @property
    def open_amount(self):
        """Still to be paid; below zero, to be given back."""
        return self.due - self.received

    @property
    def to_pay(self):
        return max(self.open_amount, ZERO)

    @property
    def to_give_back(self):
        return max(-self.open_amount, ZERO)

    @property
    def is_settled(self):
        return self.open_amount == ZERO

    @property
    def is_billable(self):
        """Whether there are agreed lines that no standing invoice covers."""
        return self.standing is None and bool(self.agreed.lines)


def account_of(order, workshop):
    """The Account of `order`. Three queries, one of them for its lines."""
    lines = list(order.lines.all())
    rows = list(order.invoices.select_related("balance", "credit_note", "corrects").order_by("pk"))
    issued = tuple(one for one in rows if one.is_issued)
    draft = next((one for one in rows if not one.is_issued), None)
    standing = next((one for one in issued if not one.is_credit_note and not one.is_credited), None)
    payments = tuple(order.payments.select_related("by", "undoes", "undone_by"))
    discount = draft.discount_percent if draft else ZERO
    treatment = draft.tax_treatment if draft else USUAL
    return Account(
        agreed=_totals(lines, Agreement.AGREED, workshop, discount, treatment),
        proposed=_totals(lines, Agreement.PROPOSED, workshop, ZERO, treatment),
        treatment=treatment,
        invoices=issued,
        standing=standing,
        draft=draft,
        payments=payments,
        received=sum((one.amount for one in payments), ZERO),
        currency=standing.currency if standing else workshop.currency,
    )


def _totals(lines, agreement, workshop, discount, treatment):
    prices = {"prices_include_tax": workshop.prices_include_tax, "currency": workshop.currency}
    own = (line for line in lines if line.agreement == agreement)
    if treatment:
        own, prices = untaxed(own, **prices), prices | {"prices_include_tax": False}
    return totals(own, discount_percent=discount, **prices)
