"""What the database itself refuses."""

import uuid

import pytest
from django.db import IntegrityError
from django.utils import timezone

from shop.orders.models import Hold, Photo, WorkOrder
from tests.counter_builders import booked

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(cleo):
    return booked(cleo)


def copy_of(order, **fields):
    row = WorkOrder.objects.get(pk=order.pk)
    row.pk, row.number, row.draft_key = None, "26-7777", uuid.uuid4()
    for name, value in fields.items():
        setattr(row, name, value)
    row.save(force_insert=True)


def test_a_number_is_given_once(order):
    with pytest.raises(IntegrityError):
        copy_of(order, number=order.number)


def test_a_draft_is_booked_in_once(order):
    with pytest.raises(IntegrityError):
        copy_of(order, draft_key=order.draft_key)


def test_a_hold_is_there_once_while_it_is_open(order):
    Hold.objects.create(order=order, key="x", reason="r", since=timezone.now(), lifted_at=timezone.now())
    Hold.objects.create(order=order, key="x", reason="r", since=timezone.now())
    with pytest.raises(IntegrityError):
        Hold.objects.create(order=order, key="x", reason="r", since=timezone.now())


@pytest.mark.parametrize("both", [True, False])
def test_a_photograph_belongs_to_an_order_or_a_draft(order, both):
    with pytest.raises(IntegrityError):
        Photo.objects.create(order=order if both else None, draft_key=uuid.uuid4() if both else None)
