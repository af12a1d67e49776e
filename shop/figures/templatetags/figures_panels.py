"""What other rooms' pages show of this one."""

from django import template

from shop.figures.merging import shown
from shop.figures.merging.kinds import CUSTOMERS, INSTRUMENTS

register = template.Library()


@register.inclusion_tag("figures/_same.html", takes_context=True)
def same_customer(context, customer):
    """What was merged into the customer's record, and the way to merge more."""
    return _same(context, CUSTOMERS, customer, "edit customers")


@register.inclusion_tag("figures/_same.html", takes_context=True)
def same_instrument(context, instrument):
    return _same(context, INSTRUMENTS, instrument, "edit instruments")


@register.inclusion_tag("figures/_perhaps.html", takes_context=True)
def perhaps_the_same(context, customer=None, instrument=None):
    """A word on records that may be there twice, for those who may merge them."""
    asked = [(CUSTOMERS, customer, "edit customers"), (INSTRUMENTS, instrument, "edit instruments")]
    living = [(kind, one) for kind, one, needs in asked
              if one and needs in context["may"] and not getattr(one, "erased_at", None)]  # fmt: skip
    return {"found": [(kind, one, shown.alike(kind, one)) for kind, one in living]}


def _same(context, kind, one, capability):
    if capability not in context["may"] or getattr(one, "erased_at", None):
        return {"may": False}
    return {
        "may": True, "kind": kind, "one": one, "merged": shown.merged_into(kind, one),
        "csrf_token": context.get("csrf_token"),
    }  # fmt: skip
