"""What was sent for and has not come yet."""

from decimal import Decimal

from django.db import transaction

from shop.lib.dates import today
from shop.stock.models import PriceItem


@transaction.atomic
def mark_sent(quantities):
    """`quantities` ({item key: Decimal}) were ordered today and are on their way. Returns how many items."""
    items = list(PriceItem.objects.select_for_update().filter(pk__in=quantities).order_by("pk"))
    for item in items:
        item.on_order += quantities[item.pk]
        item.ordered_on = today()
        item.save(update_fields=["on_order", "ordered_on"])
    return len(items)


@transaction.atomic
def take_back_sent(item):
    """The order was not sent after all, or will not come."""
    PriceItem.objects.filter(pk=item.pk).update(on_order=Decimal(0), ordered_on=None)
