"""The invented workshop."""

import pytest
from django.core.management import CommandError, call_command
from django.db import transaction
from django.db.models import Count
from django.test import override_settings

from shop.figures.demo.load import NotEmpty, load
from shop.handover.models import OutgoingMail
from shop.orders.models import Answer, ClosedDays, WorkOrder
from shop.orders.opening import opening_at
from shop.orders.states import State
from shop.people.models import Customer
from shop.staff.models import Workshop
from shop.worksheets.evaluation import evaluate
from shop.worksheets.models import Worksheet
from shop.worksheets.sheet import Sheet
from shop.worksheets.shown.usual import UsualShown
from shop.worksheets.usual import usual_for
from shop.worksheets.wording.said import Said
from tests import no_papers

pytestmark = pytest.mark.django_db


@pytest.fixture(scope="module")
def loaded(django_db_setup, django_db_blocker):
    """One workshop for all tests of this file, taken away at the end. Its papers are set where a shop is started."""
    unblocked, mail_is_local = django_db_blocker.unblock(), override_settings(MAIL_IS_LOCAL=True)
    with unblocked, transaction.atomic(), mail_is_local, pytest.MonkeyPatch.context() as patch:
        no_papers.instead(patch)
        yield load(orders=24, seed=3)
        transaction.set_rollback(True)


def test_every_state_is_there(loaded):
    assert set(WorkOrder.objects.values_list("state", flat=True)) == {state.value for state in State}
    assert WorkOrder.objects.count() == 24


def test_three_open_sheets_teach(loaded):
    verdicts = {}
    for sheet in Worksheet.objects.filter(signed_at=None, family="two_post_stop"):
        evaluation = evaluate(sheet)
        verdicts |= {(one.check, one.verdict): one for one in evaluation.findings}
        verdicts["window empty"] = verdicts.get("window empty") or evaluation.numbers["window"]["polygon"] == []
    assert ("edge_clearance", "out_of_range") in verdicts
    assert ("saddle_travel", "out_of_range") in verdicts
    assert verdicts["window empty"]


def test_customers_answered_quotes_on_their_page(loaded):
    online = Answer.objects.filter(how="on the customer’s page")
    by_order = {}
    for answer in online:
        by_order.setdefault(answer.order_id, set()).add(answer.answer)
    assert {"agreed", "declined"} in by_order.values()  # in part
    assert {"declined"} in by_order.values()


def test_work_found_at_the_bench_waits_for_its_answer_and_holds(loaded):
    order = WorkOrder.objects.get(state=State.WAITING_CUSTOMER)
    assert order.lines.filter(agreement="proposed").exists()
    assert order.holds.filter(lifted_at=None, key="lines").exists()


def test_a_visit_brought_two_instruments(loaded):
    visits = WorkOrder.objects.values_list("visit").annotate(count=Count("pk"))
    assert sorted(count for _, count in visits)[-2:] == [1, 2]


def test_nothing_is_promised_for_a_day_on_which_the_workshop_is_closed(loaded):
    opening = opening_at(Workshop.here())
    assert ClosedDays.objects.count() == 2
    assert not [one for one in WorkOrder.objects.open() if one.promised_on and opening.is_shut(one.promised_on)]


def test_other_bridges_are_under_way_and_finished(loaded):
    bridges = {"pinned", "flat_plate", "vibrato", "floating"}
    assert bridges <= set(Worksheet.objects.filter(signed_at=None).values_list("family", flat=True))
    assert bridges <= set(Worksheet.objects.exclude(signed_at=None).values_list("family", flat=True))


def test_what_is_usual_is_fitted_and_finds_the_one_saddle_that_is_not(loaded):
    unusual = []
    for sheet in Worksheet.objects.filter(signed_at=None, family="two_post_stop"):
        shown = UsualShown.of(usual_for(sheet, Sheet.load(sheet)), Said())
        assert shown.is_fitted
        unusual += [(sheet.pk, one.string) for one in shown.rows if one.is_unusual]
    assert 1 <= len(unusual) <= 3


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
