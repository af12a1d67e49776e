"""Two people with one record open: each keeps what the other wrote."""

import pytest

from shop.people.forms import CustomerForm
from shop.people.models import Customer
from tests import factories

pytestmark = pytest.mark.django_db


def posted(form):
    """What a browser sends for a form as it was shown, its hidden copies included."""
    data = {}
    for bound in form:
        value = bound.value()
        data[bound.html_name] = "" if value is None else value
        data[bound.html_initial_name] = "" if value is None else value
    return {name: value for name, value in data.items() if value is not False}


@pytest.fixture
def mara():
    return factories.customer()


def test_different_fields_both_stand(mara):
    first, second = posted(CustomerForm(instance=mara)), posted(CustomerForm(instance=mara))
    one = CustomerForm(first | {"phone": "01632 960999"}, instance=Customer.objects.get(pk=mara.pk))
    assert one.is_valid()
    one.save_changes()
    other = CustomerForm(second | {"name": "Mara Fell-Hay"}, instance=Customer.objects.get(pk=mara.pk))
    assert other.is_valid()
    other.save_changes()
    mara.refresh_from_db()
    assert (mara.name, mara.phone) == ("Mara Fell-Hay", "01632 960999")
    assert mara.search_key.startswith("mara fell-hay")
    assert mara.phone_digits == "01632960999"


def test_the_same_field_is_asked_about_and_the_second_save_counts(mara):
    seen = posted(CustomerForm(instance=mara))
    Customer.objects.filter(pk=mara.pk).update(name="Mara Stone")
    form = CustomerForm(seen | {"name": "Mara Hay"}, instance=Customer.objects.get(pk=mara.pk))
    assert not form.is_valid()
    assert form.errors["name"] == ["Somebody changed this meanwhile to: Mara Stone. Save again to overwrite it."]
    again = CustomerForm(posted_again(form), instance=Customer.objects.get(pk=mara.pk))
    assert again.is_valid()
    again.save_changes()
    mara.refresh_from_db()
    assert mara.name == "Mara Hay"


def posted_again(form):
    """What a browser sends when the refused form is simply sent again."""
    return dict(form.data.items())


def test_the_same_value_from_both_is_no_clash(mara):
    seen = posted(CustomerForm(instance=mara))
    Customer.objects.filter(pk=mara.pk).update(name="Mara Hay")
    form = CustomerForm(seen | {"name": "Mara Hay"}, instance=Customer.objects.get(pk=mara.pk))
    assert form.is_valid()


def test_nothing_changed_writes_nothing(mara, django_assert_num_queries):
    form = CustomerForm(posted(CustomerForm(instance=mara)), instance=Customer.objects.get(pk=mara.pk))
    assert form.is_valid()
    assert form.changes == {}
    with django_assert_num_queries(3):  # savepoint, the row, savepoint: no update
        form.save_changes()
