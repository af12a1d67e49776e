"""Amounts as people of different countries type them."""

from decimal import Decimal

import pytest
from django import forms

from shop.lib import money
from shop.lib.amounts import AmountField, QuantityField, RateField


@pytest.mark.parametrize(
    ("typed", "amount"), [("12", "12"), ("12.50", "12.50"), ("12,50", "12.50"), ("€ 12", "12"), ("1,234.50", "1234.50")]
)
def test_an_amount_is_read(typed, amount):
    assert AmountField().clean(typed) == Decimal(amount)


@pytest.mark.parametrize("typed", ["much", "-5", "1000000", "12.345.6", "1.234", "NaN", "Infinity", ""])
def test_what_is_no_amount_is_refused_in_a_sentence(typed):
    with pytest.raises(forms.ValidationError) as refused:
        AmountField().clean(typed)
    assert all(message.endswith(".") for message in refused.value.messages)


def test_it_is_shown_as_the_shop_writes_and_reads_back():
    field = AmountField()
    with money.conventions("EUR", "1.234,50"):
        shown = field.prepare_value(Decimal("1234.50"))
        assert shown == "1.234,50"
        assert field.clean(shown) == Decimal("1234.50")
        assert not field.has_changed(Decimal("1234.50"), shown)


def test_a_quantity_has_no_idle_zeros():
    assert QuantityField().prepare_value(Decimal("2.00")) == "2"


def test_no_quantity_is_refused():
    with pytest.raises(forms.ValidationError):
        QuantityField().clean("0")


@pytest.mark.parametrize("typed", ["8.1", "8,1", "8.1%", "8,10 %", " 8.1 "])
def test_a_rate_is_read_with_its_sign(typed):
    assert RateField().clean(typed) == Decimal("8.1")


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("%", "required"), ("a fifth", "such as 19"), ("20%%", "such as 19"),
        ("100.01%", "less than or equal to 100"), ("-1", "greater than or equal"),
    ],
)  # fmt: skip
def test_what_is_no_rate_is_said(typed, says):
    with pytest.raises(forms.ValidationError, match=says):
        RateField().clean(typed)
