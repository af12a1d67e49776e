"""What was sent for and has not come yet."""

from decimal import Decimal

from django.db import transaction

from shop.lib.dates import today
from shop.stock.models import PriceItem
from shop.stock.shelves import for_writing


@transaction.atomic
def mark_sent(quantities, branch=None):
    """`quantities` ({item key: Decimal}) were ordered for `branch` today and are on their way. How many items."""
    items = list(PriceItem.objects.select_for_update().filter(pk__in=quantities).order_by("pk"))
    for item in items:
        row = for_writing(item, branch)
        row.on_order += quantities[item.pk]
        row.ordered_on = today()
        row.save(update_fields=["on_order", "ordered_on"])
    return len(items)


@transaction.atomic
def take_back_sent(item, branch=None):
    """The order was not sent after all, or will not come."""
    row = for_writing(PriceItem.objects.select_for_update().get(pk=item.pk), branch)
    row.on_order, row.ordered_on = Decimal(0), None
    row.save(update_fields=["on_order", "ordered_on"])
