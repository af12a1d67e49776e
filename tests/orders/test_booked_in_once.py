"""A draft books in once, however often its form is sent."""

import pytest

from shop.orders import services
from shop.orders.models import WorkOrder
from shop.staff.models import Series
from tests.counter_builders import booking, form_data

pytestmark = pytest.mark.django_db


def test_the_same_draft_again_is_the_same_order(cleo):
    draft = booking()
    first = services.book_in(draft, by=cleo, afterwards=())
    second = services.book_in(draft, by=cleo, afterwards=())
    assert first == second
    assert WorkOrder.objects.count() == 1
    assert Series.objects.get().last == 1  # no number is lost


def test_the_same_form_sent_twice(as_person, cleo):
    client, data = as_person(cleo), form_data()
    addresses = {client.post("/counter/book-in/", data)["Location"] for _ in range(2)}
    assert len(addresses) == 1
    assert WorkOrder.objects.count() == 1


def test_what_follows_is_not_done_again(cleo):
    draft, called = booking(), []
    for _ in range(2):
        services.book_in(draft, by=cleo, afterwards=[lambda orders, by: called.append(orders)])
    assert len(called) == 1
