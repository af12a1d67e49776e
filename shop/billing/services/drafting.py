"""The draft: what an invoice will say that the order's lines do not."""

from django.db import transaction
from django.utils import timezone

from shop.billing import treatments
from shop.billing.models import Invoice, InvoiceKind
from shop.billing.services.common import MoneyRefused, locked
from shop.billing.treatments import Treatment
from shop.lib import money
from shop.orders import services as orders


def draft_of(order, workshop, *, by):
    """The order's draft, made when there is none. Raises MoneyRefused while an issued invoice stands."""
    if order.invoices.standing().exists():
        raise MoneyRefused("This order has its invoice already; a credit note comes before another.")
    turn = order.invoices.issued().filter(kind=InvoiceKind.INVOICE).count() + 1
    return Invoice.objects.get_or_create(
        order=order, kind=InvoiceKind.INVOICE, turn=turn,
        defaults={
            "branch_id": order.branch_id, "customer": order.customer, "currency": workshop.currency,
            "created_at": timezone.now(), "created_by": by, "prices_include_tax": workshop.prices_include_tax,
        },
    )[0]  # fmt: skip


@transaction.atomic
def set_treatment(order, *, treatment, by):
    """Bill the order without tax, for the reason that `treatment` names; '' for the tax as usual."""
    held, workshop = locked(order)
    draft = draft_of(held, workshop, by=by)
    if treatment and (refusal := treatments.why_not(held.customer, workshop)):
        raise MoneyRefused(refusal, "treatment")
    if draft.tax_treatment == treatment:
        return draft
    draft.tax_treatment = treatment
    draft.save(update_fields=["tax_treatment"])
    said = f"without tax: {Treatment(treatment).label}" if treatment else "with tax as usual"
    orders.note(held, by=by, what="tax_treatment", text=f"To be billed {said}.", treatment=treatment)
    return draft


@transaction.atomic
def set_discount(order, *, percent, reason, by):
    """Take `percent` off everything on the order's invoice. Zero takes the discount away."""
    held, workshop = locked(order)
    draft = draft_of(held, workshop, by=by)
    reason = reason.strip()
    if percent and not reason:
        raise MoneyRefused("Say what the discount is for: it stands on the invoice.", "reason")
    if not 0 <= percent <= 100:
        raise MoneyRefused("A discount lies between 0 and 100 per cent.", "percent")
    if (draft.discount_percent, draft.discount_reason) == (percent, reason if percent else ""):
        return draft
    draft.discount_percent, draft.discount_reason = percent, reason if percent else ""
    draft.full_clean(exclude=["number", "snapshot"], validate_constraints=False)
    draft.save(update_fields=["discount_percent", "discount_reason"])
    text = f"Discount of {money.quantity(percent)} %: {reason}" if percent else "Discount taken away."
    orders.note(held, by=by, what="discount", text=text, percent=str(percent))
    return draft
