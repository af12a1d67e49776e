"""The exact sentence that a customer agrees to or declines."""

from shop.lib import money


def words_of(line, sums):
    """`Setup, 2 × €40.00 = €80.00, VAT 20% included.`; `sums` as a Quote keeps them."""
    currency = sums["currency"]
    amount = money.rounded(line.price * line.quantity, currency)
    price = money.shown(amount, currency)
    if line.quantity != 1:
        price = f"{money.quantity(line.quantity)} × {money.shown(line.price, currency)} = {price}"
    tax = f"{sums['tax_name']} {money.quantity(line.tax_rate)}%"
    return f"{line.text}, {price}, {tax} {'included' if sums['prices_include_tax'] else 'to be added'}."


def sums_of(workshop):
    """What `words_of` has to know of the workshop."""
    return {
        "currency": workshop.currency, "tax_name": workshop.tax_name, "prices_include_tax": workshop.prices_include_tax,
    }  # fmt: skip
