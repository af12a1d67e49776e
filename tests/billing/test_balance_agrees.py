"""Whatever is done in whatever order, the kept balances say what invoices and payments say."""

from decimal import Decimal

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase

from shop.billing import services
from shop.billing.models import Balance, Invoice, Payment
from tests import factories
from tests import money_builders as build

STEPS = st.lists(
    st.one_of(
        st.tuples(st.just("receive"), st.decimals("0.01", "150", places=2)),
        st.tuples(st.just("give back"), st.decimals("0.01", "150", places=2)),
        st.tuples(st.sampled_from(["issue", "credit", "undo"]), st.just(Decimal(0))),
    ),
    max_size=14,
)


def do(order, by, step, amount):
    standing = Invoice.objects.standing().filter(order=order).first()
    last = Payment.objects.filter(order=order, undone_by=None, undoes=None).last()
    if step == "receive":
        services.receive(order, amount=amount, kind="cash", key=build.key(), by=by)
    elif step == "give back":
        services.give_back(order, amount=amount, kind="cash", key=build.key(), by=by, reason="Too much.")
    elif step == "issue":
        services.issue(order, by=by)
    elif step == "credit" and standing:
        services.credit(standing, reason="Wrong.", by=by)
    elif step == "undo" and last:
        services.undo_payment(last, reason="Wrong.", key=build.key(), by=by)


def said_by_the_rows(order):
    """State and open amount of every issued paper, worked out from invoices and payments alone."""
    received = sum((one.amount for one in Payment.objects.filter(order=order)), Decimal(0))
    said = {}
    for paper in Invoice.objects.issued().filter(order=order):
        if paper.kind == "credit_note":
            said[paper.pk] = ("credit_note", 0)
        elif Invoice.objects.filter(corrects=paper).exists():
            said[paper.pk] = ("credited", 0)
        else:
            state = "paid" if received >= paper.total else "part_paid" if received > 0 else "open"
            said[paper.pk] = (state, paper.total - received)
    return said


class BalancesAgree(TestCase):
    @settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
    @given(STEPS)
    def test_balances_agree_with_the_rows(self, steps):
        cleo = factories.cleo()
        order = build.order(cleo, lines=[("Setup", "99.99")])
        for step, amount in steps:
            try:
                do(order, cleo, step, amount)
            except services.MoneyRefused:
                continue
            kept = {one.pk: (one.state, one.open_amount) for one in Balance.objects.filter(invoice__order=order)}
            assert kept == said_by_the_rows(order)
