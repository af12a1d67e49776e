"""Amounts are rounded, shown and read in one way."""

from decimal import Decimal

import iso4217
import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.lib import currencies, money


@pytest.mark.parametrize(
    ("exact", "stored"),
    [("0.005", "0.01"), ("0.0049", "0.00"), ("2.675", "2.68"), ("-0.005", "-0.01"), ("1.015", "1.02"), ("7", "7.00")],
)
def test_half_a_cent_goes_away_from_zero(exact, stored):
    assert str(money.rounded(Decimal(exact))) == stored


def test_a_currency_without_cents_is_rounded_to_whole():
    assert str(money.rounded(Decimal("1250.50"), "JPY")) == "1251.00"


def test_smallest_units_are_those_of_iso_4217():
    """Against the table of ISO 4217 in the package iso4217 1.16 (read from the package)."""
    current = {one.code: one.exponent for one in iso4217.Currency if one.exponent is not None}
    assert {code for code, places in current.items() if places == 0 and code in money.WITHOUT_UNITS} >= {
        "JPY", "KRW", "ISK", "CLP", "VND",
    }  # fmt: skip
    assert not [code for code in money.WITHOUT_UNITS if current.get(code, 0) != 0]
    assert not [code for code in money.WITH_THOUSANDTHS if current.get(code, 3) != 3]
    assert not [c for c, places in current.items() if places == 3 and c not in money.WITH_THOUSANDTHS]


def test_currencies_are_those_of_iso_4217():
    """Against the same table."""
    assert {one.code for one in iso4217.Currency if one.exponent is not None} == currencies.CODES


@pytest.mark.parametrize(
    ("number_format", "currency", "shown"),
    [
        ("1,234.50", "EUR", "€1,234.50"),
        ("1,234.50", "USD", "$1,234.50"),
        ("1.234,50", "EUR", "1.234,50\u00a0€"),
        ("1 234,50", "PLN", "1\u202f234,50\u00a0zł"),
        ("1’234.50", "CHF", "1’234.50\u00a0CHF"),
        ("1,234.50", "CHF", "CHF\u00a01,234.50"),
    ],
)
def test_amounts_are_shown_as_the_workshop_writes_them(number_format, currency, shown):
    with money.conventions(currency, number_format):
        assert money.shown(Decimal("1234.5")) == shown


def test_an_amount_below_zero_has_a_true_minus():
    assert money.shown(Decimal("-3.2"), "EUR") == "\u2212€3.20"


def test_yen_are_shown_without_decimals():
    assert money.shown(Decimal("1234.00"), "JPY") == "¥1,234"


@pytest.mark.parametrize(
    ("number", "shown"), [("1", "1"), ("1.50", "1.5"), ("0.25", "0.25"), ("100", "100"), ("1000.00", "1,000")]
)
def test_quantities_have_no_idle_zeros(number, shown):
    assert money.quantity(Decimal(number)) == shown


@pytest.mark.parametrize(
    ("typed", "amount"),
    [
        ("12", "12"), ("12.50", "12.50"), ("12,5", "12.5"), ("1,234.50", "1234.50"), ("1.234,50", "1234.50"),
        ("1 234,50", "1234.50"), ("1’234.50", "1234.50"), ("€ 12.00", "12.00"), ("12,00 EUR", "12.00"), ("-5", "-5"),
        ("\u22125.00", "-5.00"), ("1,234,567.89", "1234567.89"),
    ],
)  # fmt: skip
def test_amounts_are_read_as_people_write_them(typed, amount):
    assert money.read(typed) == Decimal(amount)


@pytest.mark.parametrize(
    "typed", ["", "a dozen", "1.234", "1,234", "1.2.3", "12.", "1e5", "NaN", "12,34,56.00", "--5", "9" * 12, "١٢"]
)
def test_what_reads_two_ways_or_not_at_all_is_asked_back(typed):
    with pytest.raises(ValueError, match=r"Write an amount such as 12\.50\."):
        money.read(typed)


@pytest.mark.parametrize(
    ("own", "typed"),
    [("EUR", "£85"), ("EUR", "85 $"), ("GBP", "85 €"), ("CAD", "€85"), ("CHF", "EUR 85"), ("EUR", "85 PCS")],
)
def test_an_amount_in_another_currency_is_not_taken_for_one_in_the_workshops(own, typed):
    with money.conventions(own, "1,234.50"), pytest.raises(ValueError, match=f"Amounts here are in {own}; "):
        money.read(typed)


@pytest.mark.parametrize(("own", "typed"), [("CAD", "$85"), ("CNY", "¥85"), ("GBP", "£85"), ("CHF", "CHF 85")])
def test_its_own_sign_is_taken_also_where_others_write_it_too(own, typed):
    with money.conventions(own, "1,234.50"):
        assert money.read(typed) == 85


@given(
    st.decimals("-999999", "999999", places=2),
    st.sampled_from(["EUR", "GBP", "CHF"]),
    st.sampled_from([*money.FORMATS]),
)
def test_what_is_shown_reads_back_as_the_same(amount, currency, number_format):
    with money.conventions(currency, number_format):
        assert money.read(money.shown(amount)) == amount
