"""Booking in: everything together, or nothing."""

from datetime import date
from decimal import Decimal

import pytest

from shop.instruments.models import Instrument
from shop.orders import services
from shop.orders.models import ConditionMark, WorkOrder
from shop.orders.services import NewLine
from shop.orders.states import State
from shop.people.models import Customer
from tests import factories
from tests.counter_builders import booked, booking

pytestmark = pytest.mark.django_db
SETUP = NewLine("Setup", Decimal("85.00"), Decimal(20), minutes=90)


def test_a_new_customer_with_a_new_instrument(cleo):
    customer = Customer(name="Jonas Reed", phone="01632 960555")
    instrument = Instrument(kind="bass", string_count=4, maker="Tinhollow")
    order = services.book_in(
        booking(customer, instrument, promised_on=date(2030, 1, 7), rack_slot="B2", came_with="soft case"),
        by=cleo, afterwards=(),
    )  # fmt: skip
    order = WorkOrder.objects.get(pk=order.pk)
    assert (order.customer.name, order.instrument.maker, order.instrument.customer) == (
        "Jonas Reed", "Tinhollow", order.customer,
    )  # fmt: skip
    assert (order.state, order.promised_on, order.rack_slot) == (State.BOOKED_IN, date(2030, 1, 7), "B2")
    assert (order.booked_by, order.customer.created_by) == (cleo, cleo)
    assert order.events.get().what == "booked_in"


def test_marks_and_lines_come_along(cleo):
    marks = (ConditionMark(side="back", x=0.4, y=0.7, note="dent"),)
    order = booked(cleo, marks=marks, lines=(SETUP,))
    assert order.marks.get().note == "dent"
    line = order.lines.get()
    assert (line.text, line.price, line.minutes, line.agreement) == ("Setup", Decimal("85.00"), 90, "proposed")
    assert order.holds.get(lifted_at=None).key == "lines"


def test_agreed_at_the_counter_is_agreed(cleo):
    order = booked(cleo, lines=(SETUP,), agreed=True)
    order.refresh_from_db()
    assert order.state == State.AGREED
    assert order.lines.get().agreed_how == "at the counter"
    assert not order.holds.filter(lifted_at=None).exists()


def test_agreeing_to_nothing_agrees_nothing(cleo):
    order = booked(cleo, agreed=True)
    assert WorkOrder.objects.get(pk=order.pk).state == State.BOOKED_IN


def test_an_instrument_that_changed_hands(cleo):
    instrument = factories.instrument(factories.customer(name="Old Owner"))
    buyer = factories.customer(name="Jonas Reed")
    order = booked(cleo, customer=buyer, instrument=instrument)
    instrument.refresh_from_db()
    assert instrument.customer == buyer
    assert "before, to Old Owner" in order.events.get(what="owner_changed").text


def test_what_follows_happens_in_the_same_transaction(cleo):
    called = []
    order = services.book_in(booking(), by=cleo, afterwards=[lambda orders, by: called.append((orders[0].number, by))])
    assert called == [(order.number, cleo)]


def test_an_error_in_what_follows_takes_everything_back(cleo):
    def fails(orders, by):
        raise RuntimeError("no")

    customer = Customer(name="Jonas Reed")
    with pytest.raises(RuntimeError):
        services.book_in(booking(customer, Instrument()), by=cleo, afterwards=[fails])
    assert not WorkOrder.objects.exists()
    assert not Customer.objects.exists()
    assert booked(cleo).number.endswith("-0001")  # the number was given back too


def test_terms_are_kept_word_for_word(cleo):
    order = booked(cleo, intake_terms="Left at your own risk.\nSecond line.")
    assert WorkOrder.objects.get(pk=order.pk).intake_terms == "Left at your own risk.\nSecond line."
