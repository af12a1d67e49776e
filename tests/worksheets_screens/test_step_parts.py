"""Parts used at a step leave the shelf for the order, and the hand comes back to the step."""

from decimal import Decimal

import pytest

from shop.orders.models import Line
from shop.stock.levels import on_hand
from shop.stock.models import PriceItem
from shop.stock.services import receive


@pytest.fixture
def studs(ada):
    item = PriceItem.objects.create(name="Tailpiece studs, pair", kind="part", price="14.50", tax_rate="20")
    receive(item, Decimal(3), by=ada)
    return item


def test_a_part_is_taken_to_the_order_from_the_step(as_person, ben, sheet, studs):
    client = as_person(ben)
    here = f"/bench/{sheet.pk}/tail/"
    assert "From the shelf" in client.get(here).content.decode()
    sent = {"part-item": studs.pk, "part-quantity": "1", "back": f"{here}#parts"}
    assert client.post(f"/orders/{sheet.order.number}/parts/use/", sent).url == f"{here}#parts"
    line = Line.objects.get()
    assert (line.order, line.item, line.agreement) == (sheet.order, studs, "proposed")
    assert on_hand(studs) == 2
    page = client.get(here).content.decode()
    assert "Put back: Tailpiece studs, pair" in page
    assert f'name="back" value="{here}#parts"' in page
