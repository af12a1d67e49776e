"""The invented workshop."""

import pytest
from django.core.management import CommandError, call_command
from django.db import transaction
from django.test import override_settings

from shop.figures.demo.load import NotEmpty, load
from shop.handover.models import OutgoingMail
from shop.orders.models import WorkOrder
from shop.orders.states import State
from shop.people.models import Customer
from shop.worksheets.evaluation import evaluate
from shop.worksheets.models import Worksheet

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def loaded(django_db_setup, django_db_blocker):
    """One workshop for all tests of this file, taken away at the end."""
    with django_db_blocker.unblock(), transaction.atomic(), override_settings(MAIL_IS_LOCAL=True):
        yield load(orders=24, seed=3)
        transaction.set_rollback(True)


def test_every_state_is_there(loaded):
    assert set(WorkOrder.objects.values_list("state", flat=True)) == {state.value for state in State}
    assert WorkOrder.objects.count() == 24


def test_three_open_sheets_teach(loaded):
    verdicts = {}
    for sheet in Worksheet.objects.filter(signed_at=None):
        evaluation = evaluate(sheet)
        verdicts |= {(one.check, one.verdict): one for one in evaluation.findings}
        verdicts["window empty"] = verdicts.get("window empty") or evaluation.numbers["window"]["polygon"] == []
    assert ("edge_clearance", "out_of_range") in verdicts
    assert ("saddle_travel", "out_of_range") in verdicts
    assert verdicts["window empty"]


def test_an_instrument_has_been_here_before(loaded):
    signed = Worksheet.objects.exclude(signed_at=None).values_list("order__instrument", flat=True)
    assert len(signed) > len(set(signed))


def test_addresses_and_numbers_are_reserved_ones(loaded):
    for customer in Customer.objects.all():
        assert customer.email == "" or customer.email.endswith("@example.com")
        assert customer.phone.startswith("+44 7700 900")
    assert all(mail.to.endswith("@example.com") for mail in OutgoingMail.objects.all())


def test_it_never_fills_a_shop_that_has_work(loaded):
    with pytest.raises(NotEmpty):
        load(orders=16)


def test_it_mails_nobody(settings, db):
    settings.MAIL_IS_LOCAL = False
    with pytest.raises(CommandError, match="mail nobody"):
        call_command("load_demo")
