"""Making an order ready: invoice, papers and mail in one go."""

from datetime import date
from decimal import Decimal

import pytest

from shop.billing import services as billing
from shop.billing.models import Invoice
from shop.handover import services
from shop.handover.models import MailState, OutgoingMail, Paper, PaperKind
from shop.orders.services import NotAllowed, hold
from shop.orders.states import State
from tests import factories, money_builders
from tests import handover_builders as build


@pytest.fixture
def order(cleo, ben):
    return build.checked(cleo, ben, watch="The first fret will need dressing.", next_check_on=date(2027, 11, 1))


def test_it_issues_the_invoice_keeps_both_papers_mails_them_and_moves_on(cleo, order):
    done = services.make_ready(order, by=cleo)
    order.refresh_from_db()
    assert order.state == State.READY
    assert done.invoice.number.endswith("-0001")
    assert [paper.kind for paper in done.papers] == [PaperKind.INVOICE, PaperKind.HANDOVER]
    assert list(done.mail.papers.order_by("pk")) == list(done.papers)
    assert (done.mail.state, done.mail.to, done.mail.name) == (MailState.WAITING, "mara@example.com", "ready")
    assert all(paper.read().startswith(b"%PDF-") for paper in done.papers)


def test_pressing_again_does_nothing_more(cleo, order):
    services.make_ready(order, by=cleo)
    again = services.make_ready(order, by=cleo)
    assert again.was_ready
    assert (Paper.objects.count(), OutgoingMail.objects.count(), Invoice.objects.count()) == (2, 1, 1)


@pytest.mark.parametrize("state", [State.BOOKED_IN, State.ON_BENCH, State.DECLINED, State.COLLECTED])
def test_only_what_is_checked_becomes_ready(cleo, state):
    order = money_builders.order(cleo, state=state)
    with pytest.raises(NotAllowed, match="becomes ready once its work is checked"):
        services.make_ready(order, by=cleo)
    assert not Invoice.objects.exists()


def test_what_is_held_does_not_become_ready(cleo, order):
    hold(order, key="parts", reason="a part is missing")
    with pytest.raises(NotAllowed, match="Something still holds this order: a part is missing"):
        services.make_ready(order, by=cleo)


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"email": ""}, "Mara Fell has no e-mail address."),
        ({"mail_agreed": False}, "Mara Fell does not want to be mailed."),
    ],
)
def test_a_customer_who_is_not_mailed_has_the_papers_all_the_same(cleo, ben, fields, said):
    order = build.checked(cleo, ben, instrument=factories.instrument(factories.customer(**fields)))
    done = services.make_ready(order, by=cleo)
    assert (len(done.papers), done.mail, done.why_not_mailed) == (2, None, said)
    order.refresh_from_db()
    assert order.state == State.READY


def test_work_for_nothing_has_no_invoice(cleo, ben):
    order = build.checked(cleo, ben, lines=[])
    done = services.make_ready(order, by=cleo)
    assert done.invoice is None
    assert [paper.kind for paper in done.papers] == [PaperKind.HANDOVER]


def test_an_order_without_a_worksheet_has_a_sheet_too(cleo):
    done = services.make_ready(money_builders.order(cleo), by=cleo)
    assert len(done.papers) == 2


def test_broken_off_after_issuing_it_goes_on_where_it_was(cleo, order, monkeypatch):
    def breaks(*_):
        raise RuntimeError("the renderer fell over")

    monkeypatch.setattr(services.papers, "handover_pdf", breaks)
    with pytest.raises(RuntimeError):
        services.make_ready(order, by=cleo)
    order.refresh_from_db()
    assert (order.state, Invoice.objects.count(), OutgoingMail.objects.count()) == (State.CHECKED, 1, 0)
    monkeypatch.undo()
    done = services.make_ready(order, by=cleo)
    assert (done.invoice, Paper.objects.filter(kind=PaperKind.INVOICE).count()) == (Invoice.objects.get(), 1)


def test_nothing_is_kept_when_the_order_was_taken_back_meanwhile(cleo, order, monkeypatch):
    render = services.papers.handover_pdf

    def taken_back(row, workshop):
        type(row).objects.filter(pk=row.pk).update(state=State.ON_BENCH)
        return render(row, workshop)

    monkeypatch.setattr(services.papers, "handover_pdf", taken_back)
    with pytest.raises(NotAllowed):
        services.make_ready(order, by=cleo)
    assert not OutgoingMail.objects.exists()
    assert not Paper.objects.filter(kind=PaperKind.HANDOVER).exists()


def test_a_deposit_stands_in_the_mail(cleo, order):
    billing.receive(order, amount=Decimal(50), kind="cash", key=money_builders.key(), by=cleo)
    assert "Still to pay: €35.00, invoice R" in services.make_ready(order, by=cleo).mail.text


def test_who_did_it_stands_in_the_history(cleo, order):
    services.make_ready(order, by=cleo)
    assert [(e.what, e.by) for e in order.events.order_by("-pk")[:2]] == [("mailed", cleo), ("moved", cleo)]
