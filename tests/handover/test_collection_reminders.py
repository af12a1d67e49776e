"""Reminding of what is ready and not collected: at the shop's intervals, never sooner, never twice, never too often."""

import threading
from datetime import datetime, timedelta

import pytest
from django.core.management import call_command
from django.db import connection
from django.utils import timezone

from shop.figures.carrying import erasing
from shop.handover import collecting, queue
from shop.handover.models import CollectionReminder, OutgoingMail, SilencedAddress
from shop.lib.dates import today
from shop.orders import services as orders
from shop.orders.models import Event, WorkOrder
from shop.orders.services import NotAllowed
from shop.orders.states import State
from shop.people.models import Customer
from shop.staff.models import Workshop
from tests import factories, money_builders

pytestmark = pytest.mark.django_db
READY_ON = datetime(2026, 3, 2, 11, 0)  # a Monday


@pytest.fixture
def order(cleo):
    """Ready since 2 March, in a shop that reminds after 7 days, then every 10, three times at most."""
    factories.workshop(collect_after_days=7, collect_every_days=10, collect_most=3, email="workshop@example.com")
    instrument = factories.instrument(factories.customer(email="mara@example.com"))
    made = money_builders.order(cleo, instrument=instrument, state=State.READY)
    WorkOrder.objects.filter(pk=made.pk).update(state_since=timezone.make_aware(READY_ON))
    made.refresh_from_db()
    return made


def look(day, hour=10):
    """What the worker queues when it looks `day` days after the order became ready."""
    return collecting.remind_due(at=timezone.make_aware(READY_ON.replace(hour=hour) + timedelta(days=day)))


def went(days):
    return [day for day in days for _ in range(look(day))]


def test_after_seven_days_then_every_ten_and_three_times_in_all(order):
    assert went(range(90)) == [7, 17, 27]
    assert list(OutgoingMail.objects.values_list("name", flat=True)) == ["waits"] * 3
    assert Event.objects.filter(what="mailed").count() == 3


def test_looking_again_and_again_sends_one(order):
    assert went([7, 7, 7, 8, 9]) == [7]


def test_a_worker_that_slept_for_months_sends_one(order):
    assert went([200, 200, 201, 209, 210]) == [200, 210]


def test_a_clock_set_back_sends_nothing_twice(order):
    assert went([20, 8, 17, 29, 30]) == [20, 30]


def test_a_clock_set_far_ahead_and_back_only_waits(order):
    assert went([400, 7, 17, 27]) == [400]


@pytest.mark.parametrize("hour", [0, 5, 8, 18, 23])
def test_not_at_night(order, hour):
    assert look(7, hour) == 0
    assert look(7, 9) == 1


@pytest.mark.parametrize("state", [state for state in State if state not in (State.READY, State.UNCOLLECTED)])
def test_only_what_waits_to_be_collected(order, state):
    WorkOrder.objects.update(state=state)
    assert went(range(40)) == []


def test_none_unless_the_shop_asks_for_it(order):
    assert Workshop._meta.get_field("collect_after_days").default == 0
    factories.workshop(collect_after_days=0)
    assert went(range(60)) == []


@pytest.mark.parametrize("change", [{"email": ""}, {"mail_agreed": False}])
def test_whoever_cannot_or_will_not_be_mailed_is_not(order, change):
    Customer.objects.update(**change)
    assert went(range(60)) == []


def test_an_address_that_nothing_is_sent_to(order):
    queue.silence(address="MARA@example.com", reason="Asked for it.", by=None)
    assert SilencedAddress.objects.exists()
    assert went(range(60)) == []


def test_it_ends_when_it_is_collected(order, cleo):
    assert went([7]) == [7]
    orders.move(order, State.COLLECTED, by=cleo, own=True)
    assert went(range(8, 60)) == []


def test_it_rests_until_the_day_on_which_the_customer_comes_is_over(order, cleo):
    assert went([7]) == [7]
    collecting.CollectionDay.objects.create(order=order, day=READY_ON.date() + timedelta(days=30))
    assert went(range(8, 60)) == [40, 50]


def test_the_day_is_written_down_with_an_event(order, cleo):
    day = today() + timedelta(days=3)
    collecting.expect(order, day, by=cleo)
    collecting.expect(order, day, by=cleo)
    assert order.events.filter(what="collection_day").count() == 1
    collecting.expect(order, None, by=cleo)
    assert not collecting.CollectionDay.objects.exists()
    with pytest.raises(NotAllowed, match="from today"):
        collecting.expect(order, today() - timedelta(days=1), by=cleo)


def test_mail_and_its_record_stand_or_fall_together(order, monkeypatch):
    def broken(**fields):
        raise RuntimeError("the power went")

    monkeypatch.setattr(CollectionReminder.objects, "create", broken)
    with pytest.raises(RuntimeError):
        look(7)
    assert not OutgoingMail.objects.exists()


def test_the_worker_looks_for_them_and_sends_them(order, monkeypatch):
    monkeypatch.setattr("shop.handover.management.commands.send_mail.close_old_connections", lambda: None)
    noon = timezone.make_aware(READY_ON + timedelta(days=7))
    monkeypatch.setattr(collecting.timezone, "now", lambda: noon)
    call_command("send_mail", verbosity=0)
    assert CollectionReminder.objects.count() == 1
    assert OutgoingMail.objects.get().state == "sent"


def test_the_order_and_the_office_say_so(as_person, cleo, order):
    went([7, 17])
    client = as_person(cleo)
    said = "eminded twice, last on Thu 19 Mar 2026"
    assert said in client.get(f"/orders/{order.number}/").text
    assert said in client.get("/office/").text
    day = today() + timedelta(days=3)
    assert client.post(f"/orders/{order.number}/expect/", {"day": day.isoformat()}).status_code == 302
    assert "comes on" in client.get("/office/").text
    for wrong in ("nonsense", "1999-01-01", "9999-12-31"):
        client.post(f"/orders/{order.number}/expect/", {"day": wrong})
        assert order.collection_day.day == day


def test_who_was_erased_is_never_written_to(order, ada):
    went([7])
    WorkOrder.objects.update(state=State.COLLECTED)
    erasing.erase(order.customer, by=ada)
    WorkOrder.objects.update(state=State.READY)
    assert went(range(8, 90)) == []
    assert not OutgoingMail.objects.exists()
    assert CollectionReminder.objects.get().mail is None


@pytest.mark.django_db(transaction=True)
def test_two_workers_at_once_send_one(order):
    start, counts = threading.Barrier(2), []
    for _ in range(4):
        more = money_builders.order(order.booked_by, instrument=order.instrument, state=State.READY)
        WorkOrder.objects.filter(pk=more.pk).update(state_since=order.state_since)

    def work():
        try:
            start.wait()
            counts.append(look(7))
        finally:
            connection.close()

    workers = [threading.Thread(target=work) for _ in range(2)]
    for one in workers:
        one.start()
    for one in workers:
        one.join()
    assert sum(counts) == OutgoingMail.objects.count() == CollectionReminder.objects.count() == 5
