"""The exact sentence that a customer agrees to or declines."""

from decimal import Decimal

from shop.lib import money
from shop.orders import hooks


def words_of(line, sums):
    """`Setup, 2 × €40.00 = €80.00, VAT 20% included.`; `sums` as a Quote keeps them."""
    currency, (each, rate) = sums["currency"], priced(line, sums)
    amount = money.rounded(each * line.quantity, currency)
    price = money.shown(amount, currency)
    if line.quantity != 1:
        price = f"{money.quantity(line.quantity)} × {money.shown(each, currency)} = {price}"
    return f"{line.text}, {price}, {sums['tax_name']} {money.quantity(rate)}%{_taxed(sums)}."


def _taxed(sums):
    if reason := sums.get("untaxed"):
        return f", {reason}"
    return " included" if sums["prices_include_tax"] else " to be added"


def priced(line, sums):
    """(price each, tax rate in per cent) of a line as it is put to the customer."""
    if not sums.get("untaxed"):
        return line.price, line.tax_rate
    if not sums["prices_include_tax"]:
        return line.price, Decimal(0)
    return money.without_tax(line.price, line.tax_rate, sums["currency"]), Decimal(0)


def sums_of(order, workshop):
    """What `words_of` has to know of the workshop, and of how the order will be billed."""
    return {
        "currency": workshop.currency, "tax_name": workshop.tax_name, "prices_include_tax": workshop.prices_include_tax,
        "untaxed": hooks.untaxed(order),
    }  # fmt: skip
