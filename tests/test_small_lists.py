"""The lists that stay short in most workshops: they, too, ask no more of the database when they grow."""

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.handover.models import SilencedAddress
from shop.instruments.kinds import Kind
from shop.staff.models import Person
from shop.stock.models import Supplier
from shop.worksheets.models import TargetProfile
from tests.counting import stays_the_same


def person(number):
    Person.objects.create(username=f"hand{number}", role="bench")


def silenced(number):
    SilencedAddress.objects.create(address=f"mara{number}@example.com", reason="Asked for it.", since=timezone.now())


def supplier(number):
    Supplier.objects.create(name=f"Supplier {number}")


def profile(number):
    TargetProfile.objects.create(name=f"Profile {number}", kind=Kind.BASS)


@pytest.mark.parametrize(
    ("page", "make"),
    [("staff", person), ("mail-silenced", silenced), ("suppliers", supplier), ("profiles", profile)],
)
def test_twice_the_rows_take_no_more_questions(as_person, ada, page, make):
    def more():
        for number in range(10, 14):
            make(number)

    make(1)
    stays_the_same(as_person(ada), reverse(page), more)
