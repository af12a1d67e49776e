"""The owner writes the price list."""

from decimal import Decimal

import pytest

from shop.stock.models import PriceItem
from tests import counter_builders

pytestmark = pytest.mark.django_db
WHOLE = {"kind": "work", "name": "Fret dress", "price": "190", "tax_rate": "20", "usual_minutes": "180"}


def test_a_new_item(as_person, ada):
    assert as_person(ada).post("/prices/new/", WHOLE)["Location"] == "/prices/"
    assert PriceItem.objects.get().price == Decimal(190)


@pytest.mark.parametrize(
    ("field", "typed"),
    [("name", ""), ("price", "-1"), ("price", "much"), ("tax_rate", "101"), ("usual_minutes", "-5"), ("kind", "gift"),
     ("price", "1e99"), ("usual_minutes", "999999")],
)  # fmt: skip
def test_bad_input_is_said_and_kept(as_person, ada, field, typed):
    answer = as_person(ada).post("/prices/new/", WHOLE | {field: typed})
    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert not PriceItem.objects.exists()


def test_a_name_is_there_once(as_person, ada):
    counter_builders.price("Fret dress")
    assert as_person(ada).post("/prices/new/", WHOLE).status_code == 422


def test_an_order_keeps_the_price_it_was_agreed_at(as_person, ada):
    item = counter_builders.price("Setup", "85.00")
    order = counter_builders.booked(ada, lines=(counter_builders.services.NewLine.of(item),))
    shown = {"kind": "work", "name": "Setup", "price": "85.00", "tax_rate": "20.00", "usual_minutes": "90"}
    seen = {f"initial-{name}": value for name, value in shown.items()}
    as_person(ada).post(f"/prices/{item.pk}/", shown | seen | {"price": "95.00"})
    item.refresh_from_db()
    assert item.price == Decimal(95)
    assert order.lines.get().price == Decimal(85)


@pytest.mark.parametrize("who", ["ben", "cleo"])
def test_others_only_read(as_person, request, who):
    client = as_person(request.getfixturevalue(who))
    assert client.post("/prices/new/", WHOLE).status_code == 403
    assert client.get(f"/prices/{counter_builders.price().pk}/").status_code == 403


def test_no_such_item(as_person, ada):
    assert as_person(ada).get("/prices/999/").status_code == 404
