"""Somebody books in for a record that is merged away at the same moment: the order stands on the one that stays."""

import pytest

from shop.figures.merging import services
from shop.figures.merging.kinds import CUSTOMERS, INSTRUMENTS
from shop.orders.models import WorkOrder
from shop.orders.services import NotAllowed
from tests import factories
from tests.counter_builders import booked, known_data
from tests.processes import ShopOnDisk

PAIRS = 12
SET_UP = """
from shop.instruments.models import Instrument
from shop.people.models import Customer
from shop.staff.models import Person, Workshop
Workshop.here()
Person.objects.create_user(username="cleo", password="a long oak plank", role="counter", shown_name="Cleo")
"""
RACE = f"""
import threading, uuid
from django.db import connection
from shop.figures.merging import services
from shop.figures.merging.kinds import CUSTOMERS, INSTRUMENTS
from shop.instruments.models import Instrument
from shop.orders import services as orders
from shop.people.models import Customer
from shop.staff.models import Person
cleo, wrong = Person.objects.get(), []

def pair(number):
    two = [Customer.objects.create(name=f"Fell {{number}}") for _ in range(2)]
    keys = [Instrument.objects.create(customer=one, maker="Larkrise").pk for one in two]
    return two, list(Instrument.objects.filter(pk__in=keys).order_by("pk"))

def book(customer, instrument):
    draft = orders.Booking(customer=customer, instrument=instrument, complaint="Buzzes.", draft_key=uuid.uuid4())
    orders.book_in(draft, by=cleo, afterwards=())

def merge(kind, kept, gone):
    try:
        services.merge(kind, kept, gone, chosen=set(), texts={{}}, seen=kind.seen(kept, gone), by=cleo)
    except services.NotAllowed:  # the booking came first and changed one of the two: it is looked at once more
        pass

def at_once(*calls):
    gate = threading.Barrier(len(calls))
    def run(function, *arguments):
        gate.wait()
        try:
            function(*arguments)
        except Exception as problem:
            wrong.append(repr(problem))
        finally:
            connection.close()
    threads = [threading.Thread(target=run, args=call) for call in calls]
    for one in threads: one.start()
    for one in threads: one.join(60)

for number in range({PAIRS}):
    (kept, gone), (_, brought) = pair(number)
    at_once((book, gone, brought), (merge, CUSTOMERS, kept, gone))
    (_, owner), (stays, goes) = pair(f"and {{number}}")
    at_once((book, owner, goes), (merge, INSTRUMENTS, stays, goes))
print(wrong)
"""
LOOK = """
from shop.orders.models import WorkOrder
from shop.people.models import Customer, CustomerMerge
from shop.instruments.models import Instrument, InstrumentMerge
lost = [one for one in WorkOrder.objects.all() if not Customer.objects.filter(pk=one.customer_id).exists()
        or not Instrument.objects.filter(pk=one.instrument_id).exists()]
print(WorkOrder.objects.count(), len(lost), CustomerMerge.objects.count() > 0, InstrumentMerge.objects.count() > 0)
"""


def test_no_order_is_left_behind(tmp_path):
    shop = ShopOnDisk(tmp_path)
    shop.say(SET_UP)
    assert shop.say(RACE).strip() == "[]"
    assert shop.say(LOOK).split() == [str(2 * PAIRS), "0", "True", "True"]


def merge(kind, kept, gone, by):
    kept, gone = (kind.model.objects.get(pk=one.pk) for one in (kept, gone))
    return services.merge(kind, kept, gone, chosen=set(), texts={}, seen=kind.seen(kept, gone), by=by)


@pytest.mark.django_db
def test_a_booking_that_comes_too_late_goes_to_the_record_that_stays(ada):
    kept, gone = factories.customer(), factories.customer(name="M. Fell")
    ours, theirs = factories.instrument(kept), factories.instrument(gone, serial="LR-8")
    merge(CUSTOMERS, kept, gone, ada)
    merge(INSTRUMENTS, ours, theirs, ada)
    order = booked(ada, customer=gone, instrument=theirs)  # as the counter's page still has them
    assert (order.customer, order.instrument) == (kept, ours)


@pytest.mark.django_db
def test_what_was_deleted_meanwhile_is_said_and_nothing_is_lost(as_person, cleo, monkeypatch):
    one = factories.instrument()
    monkeypatch.setattr("shop.orders.services.booking.InstrumentMerge.held", lambda key: None)
    answer = as_person(cleo).post("/counter/book-in/", known_data(one))
    assert answer.status_code == 422
    assert "was deleted meanwhile" in answer.text
    assert "Buzzes on the low string." in answer.text
    assert not WorkOrder.objects.exists()
    with pytest.raises(NotAllowed):
        booked(cleo, instrument=one)
