"""The demo's shelf: suppliers, what lay there at the start, and deliveries whenever something runs low."""

from decimal import Decimal

from shop.figures.demo import cast
from shop.stock import services
from shop.stock.levels import to_reorder
from shop.stock.models import PriceItem, Supplier


def fill(by):
    """Suppliers, costs and places, and a first count of everything."""
    suppliers = [
        Supplier.objects.create(name=name, email=email, phone=phone, customer_number=number, notes=note)
        for name, email, phone, number, note in cast.SUPPLIERS
    ]
    for name, (cost, supplier, code, place, reorder_at, up_to, found) in cast.SHELF.items():
        item = PriceItem.objects.get(name=name)
        changed = {
            "cost": Decimal(cost), "supplier": suppliers[supplier], "supplier_code": code, "place": place,
            "reorder_at": Decimal(reorder_at), "order_up_to": Decimal(up_to),
        }  # fmt: skip
        for field, value in changed.items():
            setattr(item, field, value)
        item.save(update_fields=list(changed))
        services.count(item, Decimal(found), by=by, note="the first count")


def deliver(by):
    """What had run low comes in."""
    for level in to_reorder():
        services.receive(level.item, level.to_order, by=by, cost=level.item.cost, note="delivery note")


def recount(by):
    """The newest count: a few things have run low, so that there is something to send for."""
    for name, found in cast.LAST_COUNT.items():
        services.count(PriceItem.objects.get(name=name), Decimal(found), by=by)
