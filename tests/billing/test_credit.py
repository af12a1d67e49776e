"""A credit note corrects an issued invoice, whole, with a reason."""

from decimal import Decimal

import pytest
from django.db.models import Sum

from shop.billing import services
from shop.billing.account import account_of
from shop.billing.models import Invoice
from shop.orders import services as orders
from tests import factories
from tests import money_builders as build


@pytest.fixture
def invoice(cleo):
    order = build.order(cleo, lines=[("Setup", "85.00", "1", "20"), ("Strings", "9.50", "2", "5")])
    return services.issue(order, by=cleo)


def test_it_takes_back_every_amount(cleo, invoice):
    note = services.credit(invoice, reason="Wrong strings billed.", by=cleo)
    assert (note.net, note.tax, note.total) == (-invoice.net, -invoice.tax, -invoice.total)
    assert Invoice.objects.aggregate(sum=Sum("total"))["sum"] == 0


def test_it_has_its_own_series_and_names_what_it_corrects(cleo, invoice):
    note = services.credit(invoice, reason="Wrong strings billed.", by=cleo)
    assert note.number == invoice.number.replace("R", "C")
    assert note.snapshot["corrects"] == {"number": invoice.number, "issued_on": invoice.issued_on.isoformat()}
    assert note.snapshot["reason"] == "Wrong strings billed."


def test_the_orders_lines_are_free_again_and_can_be_billed_anew(cleo, invoice):
    order = invoice.order
    services.credit(invoice, reason="Wrong strings billed.", by=cleo)
    order.refresh_from_db()
    orders.need_open_lines(order)
    again = services.issue(order, by=cleo)
    assert (again.turn, again.pk == invoice.pk) == (2, False)


def test_what_was_paid_is_to_be_given_back_or_counts_for_the_next(cleo, invoice):
    order = invoice.order
    services.receive(order, amount=invoice.total, kind="card", key=build.key(), by=cleo)
    services.credit(invoice, reason="Not done.", by=cleo)
    order.lines.all().delete()
    assert account_of(order, factories.workshop()).to_give_back == Decimal("104.00")
    build.line(order, "Cleaning", "30.00")
    services.issue(order, by=cleo)
    assert account_of(order, factories.workshop()).to_give_back == Decimal("74.00")


@pytest.mark.parametrize("reason", ["", "  \n "])
def test_it_says_why(cleo, invoice, reason):
    with pytest.raises(services.MoneyRefused, match="Say why the invoice is corrected"):
        services.credit(invoice, reason=reason, by=cleo)


def test_only_once(cleo, invoice):
    note = services.credit(invoice, reason="Wrong.", by=cleo)
    with pytest.raises(services.MoneyRefused, match=f"Credit note {note.number} has corrected"):
        services.credit(invoice, reason="Again.", by=cleo)


def test_a_credit_note_is_not_credited(cleo, invoice):
    note = services.credit(invoice, reason="Wrong.", by=cleo)
    with pytest.raises(services.MoneyRefused, match="A credit note is not credited"):
        services.credit(note, reason="Again.", by=cleo)


def test_a_draft_is_not_credited(cleo):
    draft = services.set_discount(build.order(cleo), percent=Decimal(5), reason="friend", by=cleo)
    with pytest.raises(services.MoneyRefused, match="A draft needs no credit note"):
        services.credit(draft, reason="Wrong.", by=cleo)


def test_who_and_why_stand_in_the_history(cleo, invoice):
    services.credit(invoice, reason="Wrong strings billed.", by=cleo)
    last = invoice.order.events.last()
    assert (last.what, last.by) == ("credited", cleo)
    assert last.text.endswith(f"corrects invoice {invoice.number} over €104.00: Wrong strings billed.")
