"""What other rooms' pages show of this one."""

from django import template

from shop.figures.merging import shown
from shop.figures.merging.kinds import CUSTOMERS, INSTRUMENTS

register = template.Library()


@register.inclusion_tag("figures/_same.html", takes_context=True)
def same_customer(context, customer):
    """Who may be this customer written down twice, what was merged into the record, and the way to merge more."""
    return _same(context, CUSTOMERS, customer, "edit customers")


@register.inclusion_tag("figures/_same.html", takes_context=True)
def same_instrument(context, instrument):
    return _same(context, INSTRUMENTS, instrument, "edit instruments")


@register.inclusion_tag("figures/_perhaps.html", takes_context=True)
def perhaps_the_same(context, customer, instrument):
    """At book-in: a word on records that may be there twice. Without a customer, of the instrument alone."""
    may, found = context["may"], []
    if customer and "edit customers" in may:
        found.append((CUSTOMERS, customer, shown.alike(CUSTOMERS, customer)))
    if "edit instruments" in may:
        found.append((INSTRUMENTS, instrument, shown.alike(INSTRUMENTS, instrument)))
    return {"found": [(kind, one, alike) for kind, one, alike in found if alike]}


def _same(context, kind, one, capability):
    if capability not in context["may"] or getattr(one, "erased_at", None):
        return {"may": False}
    return {
        "may": True, "kind": kind, "one": one, "alike": shown.alike(kind, one), "merged": shown.merged_into(kind, one),
        "csrf_token": context.get("csrf_token"),
    }  # fmt: skip
