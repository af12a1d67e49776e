"""Amounts of money: how they are rounded, shown and read.

Amounts are Decimal. `rounded` is the only rounding there is: half away from zero, to the currency's smallest unit,
as commerce and EN 16931 do it. The workshop's currency and number format hold for the length of a request or a job
(`conventions`), as its time zone does.
"""

import re
from contextlib import contextmanager
from contextvars import ContextVar
from decimal import ROUND_HALF_UP, Decimal

# ISO 4217: currencies whose smallest unit is not a hundredth.
WITHOUT_UNITS = {
    "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "UYI", "VND", "VUV",
    "XAF", "XOF", "XPF",
}  # fmt: skip
WITH_THOUSANDTHS = {"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"}
SIGNS = {"EUR": "€", "GBP": "£", "USD": "$", "JPY": "¥", "CZK": "Kč", "PLN": "zł"}
# Other currencies are written with these signs too: in Canada, Egypt or China, for instance.
SHARED_SIGNS = {"$", "£", "¥"}
HUNDREDTH = Decimal("0.01")
NARROW = "\u202f"  # a narrow space that no line breaks at
WIDE = "\u00a0"
MINUS = "\u2212"

# (between thousands, before decimals, whether the sign stands before), by the example that people choose.
FORMATS = {
    "1,234.50": (",", ".", True),
    "1.234,50": (".", ",", False),
    "1 234,50": (NARROW, ",", False),
    "1’234.50": ("’", ".", False),
}
FORMAT_CHOICES = [(example, example) for example in FORMATS]
ACCEPTED = "Write an amount such as 12.50."
AMOUNT = re.compile(r"[+-]?[0-9]{1,9}(?:\.[0-9]{1,9})?")
CURRENCY = re.compile("|".join(map(re.escape, SIGNS.values())) + "|[A-Z]{3}")

_now = ContextVar("conventions", default=("EUR", "1,234.50"))


@contextmanager
def conventions(currency, number_format):
    """Within this block amounts are shown in this currency and format unless said otherwise."""
    token = _now.set((currency, number_format))
    try:
        yield
    finally:
        _now.reset(token)


def rounded(amount, currency="EUR"):
    """`amount` in the currency's smallest unit, half away from zero; always with two decimals stored."""
    step = Decimal(1) if currency in WITHOUT_UNITS else HUNDREDTH
    return Decimal(amount).quantize(step, rounding=ROUND_HALF_UP).quantize(HUNDREDTH)


def without_tax(price, tax_rate, currency="EUR"):
    """What a price that includes tax of `tax_rate` per cent is without it, rounded once."""
    return rounded(price * 100 / (100 + tax_rate), currency)


def decimals(currency):
    return 0 if currency in WITHOUT_UNITS else 2


def shown(amount, currency=None):
    """An amount as people of this workshop write it, with its currency: `€1,234.50` or `1.234,50 €`."""
    own, number_format = _now.get()
    currency = currency or own
    _, _, sign_first = FORMATS[number_format]
    amount = Decimal(amount)
    digits = plain(abs(amount), currency=currency)
    sign = SIGNS.get(currency, currency)
    before = sign if sign in SIGNS.values() else sign + WIDE
    text = before + digits if sign_first else digits + WIDE + sign
    return MINUS + text if amount < 0 else text


def plain(amount, *, currency=None, places=None):
    """An amount without its currency, `1,234.50`; `places` when it is not the currency's own."""
    own, number_format = _now.get()
    thousands, point, _ = FORMATS[number_format]
    places = decimals(currency or own) if places is None else places
    text = f"{Decimal(amount):,.{places}f}".replace("-", MINUS)
    return text.translate(str.maketrans({",": thousands, ".": point}))


def quantity(number):
    """A quantity or a rate without idle zeros: `2`, `1.5`, `7.7`, in the workshop's format."""
    number = Decimal(number)
    places = max(0, -number.normalize().as_tuple().exponent)
    return plain(number, places=places)


def read(text):
    """The Decimal that somebody typed: `12`, `12.50`, `12,50`, `1,234.50`, `1.234,50`, `-5`, `€ 12`.

    Raises ValueError, a sentence, for what could be read in two ways or not at all, and for another currency's amount.
    """
    bare = re.sub(r"[\s\u00a0\u202f’']", "", text).replace(MINUS, "-")
    if written := CURRENCY.search(bare):
        _refuse_another(written[0])
        bare = bare.replace(written[0], "", 1)
    last = max(bare.rfind("."), bare.rfind(","))
    if last >= 0:
        whole, cents = bare[:last], bare[last + 1 :]
        bare = _joined(whole, cents, bare[last])
    if not AMOUNT.fullmatch(bare):
        raise ValueError(ACCEPTED)
    return Decimal(bare)


def _refuse_another(written):
    """Raise ValueError when the sign or the three letters beside an amount are not those of the workshop's currency."""
    own, _ = _now.get()
    may_be_own = written in SHARED_SIGNS and own not in SIGNS
    if not may_be_own and written not in (own, SIGNS.get(own)):
        raise ValueError(f"Amounts here are in {own}; “{written}” is something else.")


def _joined(whole, cents, point):
    """The number with a plain point. Groups of three before it may be parted by the other mark."""
    parting = "," if point == "." else "."
    groups = whole.lstrip("+-").split(parting)
    if len(groups) > 1 and not all(len(group) == 3 for group in groups[1:]):
        raise ValueError(ACCEPTED)
    if point in whole or len(cents) == 3 or not cents:
        raise ValueError(ACCEPTED)  # 1.234 may be a thousand or one and a bit: ask
    return whole.replace(parting, "") + "." + cents
