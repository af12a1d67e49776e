"""The form for one item of the price list."""

from shop.lib.careful import CarefulForm
from shop.stock.models import PriceItem


class PriceForm(CarefulForm):
    class Meta:
        model = PriceItem
        fields = ["kind", "name", "price", "tax_rate", "usual_minutes", "retired"]
        help_texts = {
            "name": "As it stands on quotes and invoices.",
            "usual_minutes": "Promises are reckoned from this.",
            "retired": "It stays on old papers; nobody picks it any more.",
        }
