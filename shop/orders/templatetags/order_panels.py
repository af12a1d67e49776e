"""What other rooms' pages show of orders: a customer's orders, and an instrument's visits."""

import uuid

from django import template

from shop.instruments.kinds import Hand, Kind
from shop.lib.dates import days_ago
from shop.orders.forms.parts import UsePartForm
from shop.orders.marks import last_marked, numbered
from shop.orders.outlines import HEIGHT, WIDTH
from shop.orders.querysets import DONE
from shop.orders.shelf import parts_of
from shop.orders.states import CLOSED

register = template.Library()
MOST = 30


@register.inclusion_tag("orders/_of_customer.html", takes_context=True)
def customer_orders(context, customer):
    """The customer's orders that may be seen, the newest first."""
    return {"customer": customer, **_newest(context, customer.orders)}


@register.inclusion_tag("orders/_visits.html", takes_context=True)
def visits(context, instrument):
    """Every time the instrument was here that may be seen, the newest first."""
    return {"instrument": instrument, **_newest(context, instrument.orders)}


def _newest(context, orders):
    found = list(orders.for_person(context["user"]).with_parties()[: MOST + 1])
    return {"orders": found[:MOST], "more": len(found) > MOST, "branches": context["branches"]}


@register.inclusion_tag("orders/_parts.html", takes_context=True)
def parts_panel(context, order, back=""):
    """The order's parts: what is on the shelf for it, what was taken, and taking more. `back` is where to go after."""
    page = context.get("page")
    form = getattr(page, "forms", {}).get("part") or UsePartForm(prefix="part")
    if hasattr(page, "offered"):
        form.offering(sorted((one for one in page.offered if one.is_on_shelf), key=lambda one: (one.kind, one.name)))
    return {
        "order": order, "parts": parts_of(order), "back": back, "form": form,
        "may": context["may"], "is_open": order.state not in CLOSED and not order.lines_fixed_by,
        "csrf_token": context.get("csrf_token"), "new_key": uuid.uuid4,
    }  # fmt: skip


@register.inclusion_tag("orders/_outline.html")
def outline(side, kind, hand, marks=(), any_kind=False):
    """One side of an instrument of that kind with its numbered marks.

    `any_kind` brings the other kinds along, hidden, for a form on which the kind is still chosen.
    """
    kind = kind if kind in Kind.values else Kind.ELECTRIC
    dots = [(one.number, one.mark.x * WIDTH, one.mark.y * HEIGHT, one.mark.note) for one in marks
            if one.mark.side == side]  # fmt: skip
    shapes = [(one, f"orders/outlines/_{one}.html") for one in (Kind.values if any_kind else [kind])]
    return {
        "side": side, "kind": kind, "hand": hand, "dots": dots, "shapes": shapes,
        "is_turned": (side == "back") != (hand == Hand.LEFT),
    }  # fmt: skip


@register.inclusion_tag("counter/_marks_before.html")
def marks_before(piece):
    """The marks that a known instrument had when it was here before, as far as its branch knows. Two queries."""
    order = last_marked(piece.instrument, piece.workshop.branch) if piece.instrument else None
    return {"order": order, "marks": numbered(order.marks.all(), piece.instrument.hand) if order else []}


@register.filter
def is_shut(day, opening):
    """Whether no customer can come on `day`, so that nothing can be promised for it."""
    return opening.is_shut(day)


@register.filter
def is_late(order, today):
    """Whether the promise is past and the work not done."""
    return bool(order.promised_on) and order.promised_on < today and order.state not in DONE


@register.filter
def days_since(moment):
    """`3 days`, `1 day`, `less than a day`."""
    days = days_ago(moment)
    return "less than a day" if days <= 0 else "1 day" if days == 1 else f"{days} days"
