"""A branch is not closed over what lies on its shelf; the whole shelf goes to another branch, with movements."""

from decimal import Decimal

import pytest

from shop.staff import branches
from shop.stock import closing, services
from shop.stock.levels import on_hand
from shop.stock.models import Movement
from tests import stock_builders

pytestmark = pytest.mark.django_db


@pytest.fixture
def lies(two):
    """Two items in the Harbour, one of them in the High Street, too; a third is below zero there."""
    many, few, under = (stock_builders.part(name=name) for name in ("Fret wire", "Nut blank", "Saddle"))
    services.count(many, Decimal(5), by=two.ada, branch=two.harbour)
    services.count(many, Decimal(2), by=two.ada, branch=two.street)
    services.count(few, Decimal("0.5"), by=two.ada, branch=two.harbour)
    services.use(under, Decimal(1), order_number="26-0001", line_key=under.pk, by=two.ada, branch=two.harbour)
    return many, few, under


def address(two):
    return f"/office/branches/{two.harbour.pk}/"


def test_what_lies_there_keeps_it_open(two, lies, client):
    client.force_login(two.ada)
    said = client.post(f"{address(two)}close/", follow=True).content.decode()
    assert "On its shelf there is still “Fret wire”, “Nut blank”, “Saddle”" in said
    two.harbour.refresh_from_db()
    assert two.harbour.is_active


def test_the_whole_shelf_goes_across_and_then_it_closes(two, lies, client):
    many, _, under = lies
    client.force_login(two.ada)
    assert "3 parts of the price list lie on its shelf" in client.get(address(two)).content.decode()
    sent = client.post(f"/stock/of-branch/{two.harbour.pk}/send-on/", {"to": two.street.pk}, follow=True)
    assert "2 parts of the price list went to High Street. What is below zero on file stays" in sent.content.decode()
    assert [(on_hand(one, two.harbour), on_hand(one, two.street)) for one in lies] == [
        (0, 7), (0, Decimal("0.5")), (-1, 0),
    ]  # fmt: skip
    left, came = Movement.objects.filter(item=many).order_by("pk")[2:]
    assert (left.kind, left.branch, left.quantity, left.by) == ("sent_on", two.harbour, -5, two.ada)
    assert (came.kind, came.branch, came.quantity) == ("came_on", two.street, 5)
    services.count(under, Decimal(0), by=two.ada, branch=two.harbour)
    assert "whole shelf" not in client.get(address(two)).content.decode()
    branches.close(two.harbour)
    assert not two.harbour.is_active


def test_pressed_twice_it_goes_once(two, lies):
    key = Movement.objects.first().key.__class__(int=9)
    assert [closing.send_all_on(two.harbour, two.street, by=two.ada, key=key) for _ in range(2)] == [2, 0]
    assert on_hand(lies[0], two.street) == 7


def test_all_of_it_goes_or_nothing(two, lies, monkeypatch):
    real = closing.send_on

    def fails(item, *more, **named):
        if item == lies[1]:
            raise RuntimeError
        return real(item, *more, **named)

    monkeypatch.setattr(closing, "send_on", fails)
    with pytest.raises(RuntimeError):
        closing.send_all_on(two.harbour, two.street, by=two.ada)
    assert on_hand(lies[0], two.harbour) == 5


@pytest.mark.parametrize("to", ["", "x", "99", "itself", "closed"])
def test_it_goes_only_to_another_branch_that_is_open(two, lies, client, to):
    mill = branches.open_branch({"name": "Mill", "mark": "M"})
    branches.close(mill)
    before = Movement.objects.count()
    client.force_login(two.ada)
    chosen = {"itself": two.harbour.pk, "closed": mill.pk}.get(to, to)
    sent = client.post(f"/stock/of-branch/{two.harbour.pk}/send-on/", {"to": chosen}, follow=True)
    assert "Choose" in sent.content.decode()
    assert Movement.objects.count() == before


def test_what_is_on_its_way_keeps_it_open(two):
    item = stock_builders.part(name="Tuners", reorder_at=Decimal(1))
    services.mark_sent({item.pk: Decimal(4)}, branch=two.harbour)
    assert "On its way there is still “Tuners”" in closing.keeps_open(two.harbour)
    services.take_back_sent(item, branch=two.harbour)
    assert closing.keeps_open(two.harbour) == ""
