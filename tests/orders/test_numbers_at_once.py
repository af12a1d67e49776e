"""Order numbers under several processes at once, on a database on disk."""

import re
import uuid

import pytest

from tests.processes import ShopOnDisk

SET_UP = """
from shop.staff.models import Person, Workshop
from shop.people.models import Customer
from shop.instruments.models import Instrument
Workshop.here()
Person.objects.create_user(username="cleo", password="a long oak plank", role="counter", shown_name="Cleo")
Instrument.objects.create(customer=Customer.objects.create(name="Mara Fell"), maker="Larkrise")
"""
BOOK_IN = """
import sys, uuid
from shop.instruments.models import Instrument
from shop.orders import services
from shop.staff.models import Person
one, cleo = Instrument.objects.select_related("customer").get(), Person.objects.get()
keys = [uuid.UUID(key) for key in sys.argv[1:]]
for key in keys:
    draft = services.Booking(customer=one.customer, instrument=one, complaint="Buzzes.", draft_key=key)
    print(services.book_in(draft, by=cleo, afterwards=()).number)
"""


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    made = ShopOnDisk(tmp_path_factory.mktemp("numbers"))
    made.say(SET_UP)
    return made


def test_no_two_orders_have_one_number_and_none_is_left_out(shop):
    pieces = [(BOOK_IN, *[uuid.uuid4() for _ in range(12)]) for _ in range(4)]
    numbers = " ".join(shop.run(*pieces)).split()
    assert len(numbers) == len(set(numbers)) == 48
    assert all(re.fullmatch(r"\d\d-\d{4}", number) for number in numbers)
    counts = sorted(int(number[3:]) for number in numbers)
    assert counts == list(range(counts[0], counts[0] + 48))


def test_one_draft_sent_by_four_at_once_is_one_order(shop):
    key = uuid.uuid4()
    numbers = " ".join(shop.run(*[(BOOK_IN, key)] * 4)).split()
    assert len(numbers) == 4
    assert len(set(numbers)) == 1
