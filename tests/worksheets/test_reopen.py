"""A signed worksheet is opened again, with a reason, until the instrument is collected."""

import pytest

from shop.orders.models import Event
from shop.orders.states import State
from shop.worksheets import services
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(ben):
    return build.at_bench(factories.instrument(), ben)


@pytest.fixture
def signed(order, ben):
    return services.sign_off(build.finished(order, ben), by=ben)


def test_it_is_open_again_and_holds_the_order_on_the_bench(signed, order, ada):
    services.reopen(signed, reason="It buzzes after all.", by=ada)
    signed.refresh_from_db()
    order.refresh_from_db()
    assert (signed.is_signed, signed.signed_by) == (False, None)
    assert order.state == State.ON_BENCH
    assert order.holds.filter(lifted_at=None).count() == 1
    assert Event.objects.filter(what="worksheet_reopened", by=ada).count() == 1


def test_it_can_be_signed_again(signed, order, ben):
    services.reopen(signed, reason="It buzzes after all.", by=ben)
    services.sign_off(signed, by=ben)
    order.refresh_from_db()
    assert order.state == State.CHECKED


@pytest.mark.parametrize("state", [State.COLLECTED, State.UNCOLLECTED])
def test_not_once_it_is_gone(signed, order, ben, state):
    type(order).objects.filter(pk=order.pk).update(state=state)
    with pytest.raises(ValueError, match="stays as it is"):
        services.reopen(signed, reason="Too late.", by=ben)


def test_a_ready_order_comes_back_to_the_bench(signed, order, ben):
    type(order).objects.filter(pk=order.pk).update(state=State.READY)
    services.reopen(signed, reason="One more look.", by=ben)
    order.refresh_from_db()
    assert order.state == State.ON_BENCH


def test_it_needs_a_reason(signed, ben):
    with pytest.raises(ValueError, match="Say why"):
        services.reopen(signed, reason=" ", by=ben)


def test_an_open_one_cannot_be_opened(order, ben):
    with pytest.raises(ValueError, match="open already"):
        services.reopen(build.worksheet(order, ben), reason="Hm.", by=ben)
