"""The shelf's pages: list, item, deliveries, counts, what to reorder, suppliers."""

from decimal import Decimal

import pytest

from shop.stock import services
from shop.stock.levels import on_hand
from shop.stock.models import Supplier
from tests.counting import stays_the_same
from tests.stock_builders import agreed, part, supplier

pytestmark = pytest.mark.django_db
LIMITS = {"reorder_at": Decimal(2), "order_up_to": Decimal(10)}


def test_the_list_says_how_each_stands(as_person, ben):
    part("Socket", found=9, by=ben, place="drawer 3")
    part("Studs", found=1, by=ben, **LIMITS)
    services.use(part("Bridge"), Decimal(1), order_number="26-0001", line_key=1, by=ben)
    text = as_person(ben).get("/stock/").text
    assert all(word in text for word in ("enough", "low", "below zero", "drawer 3"))
    low = as_person(ben).get("/stock/?show=low").text
    assert "Studs" in low
    assert "Socket" not in low
    assert "Nothing on the shelf fits" in as_person(ben).get("/stock/?q=zither").text


def test_the_list_asks_as_much_of_twice_as_many(as_person, ben):
    agreed(part("A"), ben)
    stays_the_same(as_person(ben), "/stock/", lambda: [part(f"Item {one}", found=1, by=ben) for one in range(9)])


def test_a_delivery_a_count_and_a_return(as_person, ada):
    item, client = part(), as_person(ada)
    client.post(f"/stock/{item.pk}/receive/", {"receive-quantity": "5", "receive-cost": "2,10"})
    client.post(f"/stock/{item.pk}/send-back/", {"send_back-quantity": "1", "send_back-note": "bent"})
    page = client.post(f"/stock/{item.pk}/count/", {"count-found": "3"}, follow=True)
    assert on_hand(item) == 3
    assert "bent" in page.text
    assert "€2.10" in page.text


@pytest.mark.parametrize(
    ("way", "typed"),
    [("receive", {"receive-quantity": "many"}), ("receive", {"receive-quantity": "0"}),
     ("count", {"count-found": "-1"}),
     ("send-back", {"send_back-quantity": "1"}), ("receive", {"receive-quantity": "1e9"})],
)  # fmt: skip
def test_bad_input_is_said_and_nothing_moves(as_person, ada, way, typed):
    item = part()
    answer = as_person(ada).post(f"/stock/{item.pk}/{way}/", typed)
    assert answer.status_code == 422
    assert not item.movements.exists()


@pytest.mark.parametrize(
    ("way", "typed"),
    [("{}/receive", {"receive-quantity": "1", "receive-key": "0.0"}),
     ("{}/count", {"count-found": "0", "count-key": "x"}),
     ("count/{}", {"found": "1", "key": "0.0"})],
)  # fmt: skip
def test_a_key_that_was_changed_on_its_way_is_said_though_no_field_shows_it(as_person, ada, way, typed):
    item = part(found=1, by=ada)
    answer = as_person(ada).post(f"/stock/{way.format(item.pk)}/", typed)
    assert answer.status_code == 422
    assert "This page was changed on its way." in answer.text
    assert item.movements.count() == 1


def test_cost_is_for_the_owner(as_person, ben):
    item = part(found=2, by=ben, cost=Decimal("7.77"))
    assert "7.77" not in as_person(ben).get(f"/stock/{item.pk}/").text


def test_counting_walks_along_the_shelf(as_person, ben):
    second, first = part("B", place="drawer 2"), part("A", place="drawer 1")
    client = as_person(ben)
    assert client.get("/stock/count/")["Location"] == f"/stock/count/{first.pk}/"
    assert client.post(f"/stock/count/{first.pk}/", {"found": "4"})["Location"] == f"/stock/count/{second.pk}/"
    assert client.post(f"/stock/count/{second.pk}/", {"found": "x"}).status_code == 422
    assert client.post(f"/stock/count/{second.pk}/", {"found": "0"})["Location"] == "/stock/"
    assert (on_hand(first), on_hand(second)) == (4, 0)


def test_what_to_reorder_as_a_letter_and_a_table(as_person, ada):
    item = part("=Studs", found=1, by=ada, supplier=supplier(), supplier_code="ST-8", **LIMITS)
    client = as_person(ada)
    page = client.get("/stock/reorder/").text
    assert "mailto:desk%40example.com" in page
    assert "9%20%C3%97%20%3DStuds%20%28ST-8%29" in page
    table = b"".join(client.get("/stock/reorder.csv").streaming_content).decode()
    assert "'=Studs,9" in table  # a spreadsheet runs no formula of ours
    client.post(f"/stock/reorder/{item.supplier_id}/sent/")
    item.refresh_from_db()
    assert item.on_order == 9
    again = client.post(f"/stock/reorder/{item.supplier_id}/sent/", follow=True).text
    assert "Nothing has to be ordered there" in again
    client.post(f"/stock/{item.pk}/not-sent/")
    assert client.get("/stock/reorder/").text.count("ST-8") >= 1


def test_what_is_promised_and_not_here_is_reordered(as_person, ada):
    agreed(part("Bridge"), ada, 2)
    assert "Bridge" in as_person(ada).get("/stock/reorder/").text


def test_a_supplier_is_written_down(as_person, ada):
    client = as_person(ada)
    assert client.post("/stock/suppliers/new/", {"name": "Weir"}).status_code == 302
    assert client.post("/stock/suppliers/new/", {"name": "Weir"}).status_code == 422
    assert client.post("/stock/suppliers/new/", {"name": "Loft", "email": "no"}).status_code == 422
    assert Supplier.objects.count() == 1


def test_a_limit_above_the_goal_is_refused(as_person, ada):
    whole = {"kind": "part", "name": "Studs", "price": "1", "tax_rate": "20", "usual_minutes": "0"}
    answer = as_person(ada).post("/prices/new/", whole | {"reorder_at": "5", "order_up_to": "2"})
    assert answer.status_code == 422
    assert "at least as many" in answer.text


def test_the_order_page_takes_a_part(as_person, ben):
    item = part(found=0, by=ben)
    order, line = agreed(item, ben)
    client = as_person(ben)
    assert "not on the shelf" in client.get(f"/orders/{order.number}/").text
    page = client.post(f"/orders/{order.number}/lines/{line.pk}/take/", {"back": "https://elsewhere.example.com/"})
    assert page["Location"].startswith("/orders/")
    assert "On file there are now" in client.get(f"/orders/{order.number}/").text
    assert client.post(f"/orders/{order.number}/parts/use/", {"part-item": "x"}).status_code == 422
    client.post(f"/orders/{order.number}/lines/{line.pk}/put-back/")
    assert on_hand(item) == 0
