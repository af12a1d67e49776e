"""Form fields for amounts of money and quantities, typed as people of any country type them."""

from decimal import Decimal

from django import forms

from shop.lib import money


class AmountField(forms.DecimalField):
    """An amount as `12`, `12.50`, `12,50` or `€ 12`; shown in the shop's own format."""

    widget = forms.TextInput

    def __init__(self, *, min_value=Decimal(0), max_value=Decimal(999999), **kwargs):
        super().__init__(min_value=min_value, max_value=max_value, decimal_places=2, max_digits=11, **kwargs)

    def to_python(self, value):
        if value in self.empty_values:
            return None
        if isinstance(value, Decimal | int):
            return Decimal(value)
        try:
            return money.read(str(value))
        except ValueError as problem:
            raise forms.ValidationError(str(problem)) from None

    def prepare_value(self, value):
        return money.plain(value, places=2) if isinstance(value, Decimal | int) else value

    def widget_attrs(self, widget):
        return {"inputmode": "decimal", "autocomplete": "off"}

    def has_changed(self, initial, data):
        try:
            return self.to_python(initial) != self.to_python(data)
        except forms.ValidationError:
            return True


class QuantityField(AmountField):
    """A quantity or a rate, shown without idle zeros."""

    def __init__(self, *, min_value=Decimal("0.01"), max_value=Decimal(9999), **kwargs):
        super().__init__(min_value=min_value, max_value=max_value, **kwargs)

    def prepare_value(self, value):
        return money.quantity(value) if isinstance(value, Decimal | int) else value


class RateField(QuantityField):
    """A rate in per cent, with or without the sign for it."""

    def __init__(self, **kwargs):
        super().__init__(min_value=Decimal(0), max_value=Decimal(100), **kwargs)

    def to_python(self, value):
        try:
            return super().to_python(value.strip().removesuffix("%").strip() if isinstance(value, str) else value)
        except forms.ValidationError:
            raise forms.ValidationError("Write a rate such as 19 or 8.1.") from None
