"""What the database itself refuses."""

import pytest
from django.core.exceptions import ValidationError
from django.db import IntegrityError

from shop.instruments.models import InstrumentString
from tests import factories

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("count", [3, 13])
def test_a_number_of_strings_that_no_worksheet_knows(count):
    with pytest.raises(IntegrityError):
        factories.instrument(string_count=count)


def test_a_string_is_there_once():
    one = factories.instrument()
    InstrumentString.objects.create(instrument=one, number=1, midi=64, diameter_mm=0.254)
    with pytest.raises(IntegrityError):
        InstrumentString.objects.create(instrument=one, number=1, midi=64, diameter_mm=0.254)


def test_a_core_is_thinner_than_its_string():
    with pytest.raises(ValidationError, match="thinner"):
        InstrumentString(number=1, midi=64, diameter_mm=0.5, core_mm=0.5).clean()
