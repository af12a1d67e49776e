"""The shelf in tests: a part with a place and limits, and an order that has it agreed."""

from decimal import Decimal

from shop.orders import services as orders
from shop.orders.models import Agreement
from shop.orders.services import NewLine
from shop.stock import services
from shop.stock.models import Supplier
from tests import counter_builders


def part(name="Output socket", *, found=None, by=None, **fields):
    fields = {"kind": "part", "cost": Decimal("2.35"), "minutes": 0} | fields
    item = counter_builders.price(name, fields.pop("amount", "6.50"), **fields)
    if found is not None:
        services.count(item, Decimal(found), by=by)
    return item


def supplier(name="Tannery Yard Hardware", **fields):
    return Supplier.objects.create(name=name, **({"email": "desk@example.com"} | fields))


def agreed(item, by, quantity=1, **fields):
    """(order, its line of `item`), agreed."""
    order = counter_builders.booked(by, lines=(NewLine.of(item, Decimal(quantity)),), **fields)
    line = order.lines.get()
    orders.answer_lines(order, [line], Agreement.AGREED, how="at the counter", by=by)
    line.refresh_from_db()
    return order, line
