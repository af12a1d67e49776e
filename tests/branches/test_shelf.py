"""The shelf of each branch: what lies there, what is kept for its orders, what it reorders, and what goes across."""

import random
from decimal import Decimal

import pytest

from shop.orders import services as orders
from shop.orders.shelf import parts_of
from shop.stock import counting, services
from shop.stock.levels import level_of, on_hand, to_reorder
from shop.stock.models import Movement, OtherShelf
from tests import stock_builders
from tests.counting import stays_the_same

pytestmark = pytest.mark.django_db


@pytest.fixture
def item(two):
    """Four in the High Street, where it is reordered at two; one in the Harbour."""
    made = stock_builders.part(reorder_at=Decimal(2), order_up_to=Decimal(6), place="drawer 3")
    services.count(made, Decimal(4), by=two.ada, branch=two.street)
    services.count(made, Decimal(1), by=two.ada, branch=two.harbour)
    return made


def hands(item, two):
    return on_hand(item, two.street), on_hand(item, two.harbour)


def test_each_shelf_is_added_up_by_itself(two, item):
    services.receive(item, Decimal(5), by=two.ada, branch=two.harbour)
    services.send_back(item, Decimal(1), by=two.ada, branch=two.street, note="bent")
    services.count(item, Decimal(2), by=two.ada, branch=two.harbour)
    assert hands(item, two) == (3, 2)


def test_nothing_moves_on_no_shelf(two, item):
    with pytest.raises(ValueError, match="say which"):
        services.receive(item, Decimal(1), by=two.ada)


def test_an_order_takes_from_its_own_branch_and_holds_nothing_back_elsewhere(two, item):
    order, line = stock_builders.agreed(item, two.ada, branch=two.harbour)
    assert level_of(item, two.harbour).reserved == 1
    assert level_of(item, two.street).reserved == 0
    assert parts_of(order)[0].level.on_hand == 1
    orders.take(line, by=two.ada)
    assert hands(item, two) == (4, 0)


def test_what_goes_across_leaves_one_shelf_and_comes_to_the_other(two, item):
    outcome = services.send_on(item, Decimal(3), by=two.ada, branch=two.street, to=two.harbour, note="for the week")
    assert (outcome.on_hand, hands(item, two)) == (1, (1, 4))
    left, came = Movement.objects.order_by("pk")[2:]
    assert (left.kind, left.note) == ("sent_on", "to Harbour: for the week")
    assert (came.kind, came.note) == ("came_on", "from High Street: for the week")


def test_one_press_of_the_button_sends_once(two, item):
    key = Movement.objects.first().key.__class__(int=7)
    for _ in range(2):
        services.send_on(item, Decimal(1), by=two.ada, branch=two.street, to=two.harbour, key=key)
    assert hands(item, two) == (3, 2)


def test_both_movements_or_none(two, item, monkeypatch):
    real = Movement.objects.create

    def fails(**fields):
        if fields["kind"] == "came_on":
            raise RuntimeError
        return real(**fields)

    monkeypatch.setattr(Movement.objects, "create", fails)
    with pytest.raises(RuntimeError):
        services.send_on(item, Decimal(1), by=two.ada, branch=two.street, to=two.harbour)
    monkeypatch.undo()
    assert hands(item, two) == (4, 1)


@pytest.mark.parametrize("to", ["street", "closed"])
def test_it_goes_only_to_another_branch_that_is_open(two, item, to):
    two.harbour.is_active = to != "closed"
    with pytest.raises(services.NotAllowed):
        services.send_on(item, Decimal(1), by=two.ada, branch=two.street, to=getattr(two, to, two.harbour))


def test_each_branch_has_its_own_place_and_marks(two, item):
    """The first one's stand on the item; the Harbour reorders nothing until it says so."""
    assert [one.item for one in to_reorder(two.harbour)] == []
    OtherShelf.objects.create(item=item, branch=two.harbour, place="box", reorder_at=Decimal(1), order_up_to=Decimal(3))
    (level,) = to_reorder(two.harbour)
    assert (level.item.place, level.to_order) == ("box", 2)
    assert level_of(item, two.street).item.place == "drawer 3"
    assert to_reorder(two.street) == []


def test_what_is_on_its_way_comes_to_one_branch(two, item):
    services.mark_sent({item.pk: Decimal(2)}, two.harbour)
    assert (level_of(item, two.harbour).item.on_order, level_of(item, two.street).item.on_order) == (2, 0)
    services.receive(item, Decimal(1), by=two.ada, branch=two.street)
    assert level_of(item, two.harbour).item.on_order == 2
    services.receive(item, Decimal(1), by=two.ada, branch=two.harbour)
    assert level_of(item, two.harbour).item.on_order == 1
    services.take_back_sent(item, two.harbour)
    assert level_of(item, two.harbour).item.on_order == 0
    item.refresh_from_db()
    assert (item.on_order, item.place) == (0, "drawer 3")  # the item's own row is as it was


def test_counting_walks_along_ones_own_places(two, item):
    other = stock_builders.part("Studs", place="drawer 1")
    assert counting.first(two.street) == other.pk
    OtherShelf.objects.create(item=other, branch=two.harbour, place="z")
    assert counting.first(two.harbour) == item.pk


def test_the_page_sends_on_and_keeps(two, item, client):
    client.force_login(two.ada)
    client.post("/branch/", {"branch": two.harbour.pk})
    page = client.get(f"/stock/{item.pk}/").content.decode()
    assert "High Street <strong>4</strong>" in page
    assert "How it lies in Harbour" in page
    client.post(f"/stock/{item.pk}/send-on/", {"send_on-to": two.street.pk, "send_on-quantity": "1"})
    client.post(f"/stock/{item.pk}/keep/", {"keep-place": "box 2", "keep-reorder_at": "1", "keep-order_up_to": ""})
    assert hands(item, two) == (5, 0)
    assert level_of(item, two.harbour).item.place == "box 2"
    wrong = client.post(f"/stock/{item.pk}/send-on/", {"send_on-to": two.harbour.pk, "send_on-quantity": "1"})
    assert wrong.status_code == 422
    assert hands(item, two) == (5, 0)


def test_the_list_asks_no_more_for_a_second_branch_of_many_parts(two, item, client):
    client.force_login(two.hanna)
    stays_the_same(client, "/stock/", lambda: [stock_builders.part(f"Part {n}") for n in range(6)], most=14)


@pytest.mark.parametrize("seed", range(6))
def test_what_lies_there_is_always_the_sum_of_what_came_and_went(two, item, seed):
    """Whatever is done in whatever order, on either shelf; each movement says the sum up to itself."""
    chance, places, job = random.Random(seed), (two.street, two.harbour), {"order_number": "26-0001", "line_key": 1}
    acts = [(services.receive, {}), (services.use, job), (services.put_back, job), (services.send_on, {}),
            (services.send_back, {"note": "wrong"}), (services.count, {})]  # fmt: skip
    for _ in range(40):
        here, (act, said) = chance.choice(places), chance.choice(acts)
        said = {"to": places[here == two.street]} if act is services.send_on else said
        act(item, Decimal(chance.randint(1, 900)) / 100, by=two.ada, branch=here, **said)
    sums = dict.fromkeys((one.pk for one in places), Decimal(0))
    for moved in Movement.objects.order_by("pk"):
        sums[moved.branch_id] += moved.quantity
        assert moved.after == sums[moved.branch_id]
    assert hands(item, two) == tuple(sums.values())
    assert on_hand(item) == sum(sums.values())
    counts = Movement.objects.filter(kind="counted", branch=two.street).order_by("pk")
    assert level_of(item, two.street).counted_at == counts.last().at
