"""Keys of rows as they come in from outside."""

import pytest
from django.core.exceptions import ValidationError

from shop.lib.keys import RowsField
from shop.people.models import Customer
from tests import factories

pytestmark = pytest.mark.django_db


def test_rows_that_are_there_can_be_ticked():
    one = factories.customer()
    assert list(RowsField(Customer.objects.all()).clean([str(one.pk)])) == [one]


@pytest.mark.parametrize("key", ["15615923698285412352", "9" * 400, "-1", "1.0", "x", "\0", "", "7"])
def test_what_can_be_no_key_is_refused_like_what_cannot_be_chosen(key):
    """A number beyond 64 bits is more than a database's column can be asked for."""
    with pytest.raises(ValidationError):
        RowsField(Customer.objects.all()).clean([key])
