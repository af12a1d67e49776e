"""Amounts, quantities and rates on pages and papers. Built in: no template needs to load it."""

from django import template

from shop.lib import money as amounts

register = template.Library()


@register.filter
def money(amount, currency=None):
    """`€1,234.50`; empty for nothing. `{{ invoice.total|money:invoice.currency }}` or, in the shop's own, `|money`."""
    return "" if amount is None or amount == "" else amounts.shown(amount, currency)


@register.filter
def figure(amount, currency=None):
    """The amount without its currency, for columns whose head names it."""
    return "" if amount is None or amount == "" else amounts.plain(amount, currency=currency)


@register.filter
def quantity(number):
    """`2`, `1.5`."""
    return "" if number is None or number == "" else amounts.quantity(number)


@register.filter
def rate(number):
    """A tax rate as `20 %`, with a space that no line breaks at."""
    return "" if number is None or number == "" else f"{amounts.quantity(number)}{amounts.NARROW}%"
