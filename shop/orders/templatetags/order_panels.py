"""What other rooms' pages show of orders: a customer's orders, and an instrument's visits."""

from django import template

register = template.Library()
MOST = 30


@register.inclusion_tag("orders/_of_customer.html")
def customer_orders(customer):
    """The customer's orders, the newest first."""
    return {"customer": customer, **_newest(customer.orders)}


@register.inclusion_tag("orders/_visits.html")
def visits(instrument):
    """Every time the instrument was here, the newest first."""
    return {"instrument": instrument, **_newest(instrument.orders)}


def _newest(orders):
    found = list(orders.with_parties()[: MOST + 1])
    return {"orders": found[:MOST], "more": len(found) > MOST}
