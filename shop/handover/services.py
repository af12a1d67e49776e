"""Handing over: ready, collected, and the papers and mails that go with them.

A paper is rendered outside any transaction. What must be true together is written in one: papers kept, mail queued
and the order moved. When something breaks in between, the invoice is issued already, and pressing again goes on.
"""

from dataclasses import dataclass
from datetime import timedelta

from django.db import transaction

from shop.billing import services as billing
from shop.billing.account import account_of
from shop.billing.models import Invoice
from shop.handover import mails, making, papers
from shop.handover.models import OutgoingMail, PaperKind
from shop.lib import money
from shop.lib.dates import today
from shop.lib.templatetags.said import day as said_day
from shop.orders import services as orders
from shop.orders.models import Agreement
from shop.orders.services import NotAllowed
from shop.orders.states import State
from shop.staff.branching import place_of
from shop.staff.models import Workshop

LONGEST_REASON = 300
QUOTE_DAYS = timedelta(days=30)


@dataclass(frozen=True)
class HandedOn:
    """What came of making an order ready."""

    papers: tuple
    invoice: Invoice | None
    mail: OutgoingMail | None
    why_not_mailed: str
    was_ready: bool = False  # somebody else was quicker; nothing was done


def make_ready(order, *, by):
    """Issue what is not issued yet, make the papers, keep and mail them, and move the order to ready.

    Raises NotAllowed unless the order is checked, or while something holds it.
    """
    order = orders.WorkOrder.objects.select_related("customer", "instrument").get(pk=order.pk)
    if order.state == State.READY:
        return HandedOn((), None, None, "", was_ready=True)
    _need_checked(order)
    workshop = place_of(order, Workshop.here())
    account = account_of(order, workshop)
    issued = billing.issue(order, by=by) if account.standing or account.agreed.lines else None
    invoice_paper = making.invoice_paper(issued, by=by) if issued else None
    content = papers.handover_pdf(order, workshop)
    return _hand_on(order, workshop, issued, invoice_paper, content, by=by)


def _need_checked(order):
    if order.state != State.CHECKED:
        label = State(order.state).label
        raise NotAllowed(f"The order is {label}; it becomes ready once its work is checked.")
    held = order.holds.filter(lifted_at=None).first()
    if held:
        raise NotAllowed(f"Something still holds this order: {held.reason}.")


@transaction.atomic
def _hand_on(order, workshop, issued, invoice_paper, content, *, by):
    held = orders.locked(order)
    if held.state == State.READY:
        return HandedOn((), None, None, "", was_ready=True)
    orders.move(order, State.READY, by=by, own=True)  # before the file is written: a refusal leaves none behind
    name = papers.file_name(workshop, "handover", order.number)
    sheet = papers.keep(order, PaperKind.HANDOVER, content, name=name, by=by)
    kept = tuple(paper for paper in (invoice_paper, sheet) if paper)
    mail = mails.ready(order, kept, by=by)
    return HandedOn(kept, issued, mail, "" if mail else mails.why_not(order.customer))


@transaction.atomic
def collect(order, *, by, reason="", collected_on=None):
    """Let the customer take the instrument. Money still open, either way, needs a reason, which is recorded.

    `collected_on` is an earlier day on which it went already, not before it came.

    Raises NotAllowed unless the order is ready, uncollected, or declined and so returned as it came.
    """
    reason = " ".join(reason.split())[:LONGEST_REASON]
    held = orders.locked(order)
    if held.state not in (State.READY, State.UNCOLLECTED, State.DECLINED):
        raise NotAllowed(f"An order that is {State(held.state).label} is not handed over.")
    account = account_of(held, Workshop.here())
    if not account.is_settled and not reason:
        raise NotAllowed(f"{what_is_open(account)} Say why the instrument goes all the same.")
    said = f"{what_is_open(account)} {reason}".strip() if not account.is_settled else reason
    at = None
    if collected_on and collected_on < today():
        at = max(orders.noon_of(collected_on), held.booked_at)
        said = f"on {said_day(collected_on)}{f': {said}' if said else ''}"
    return orders.move(order, State.COLLECTED, by=by, reason=said, own=True, at=at)


def what_is_open(account):
    """What stands between customer and workshop, a sentence; '' when nothing."""
    if account.to_pay:
        billed = "" if account.standing else " and not billed yet"
        return f"{money.shown(account.to_pay, account.currency)} is still open{billed}."
    if account.to_give_back:
        return f"{money.shown(account.to_give_back, account.currency)} is to be given back."
    return ""


def issue_invoice(order, *, by):
    """Issue the order's invoice and keep its paper. Safe to repeat."""
    issued = billing.issue(order, by=by)
    making.invoice_paper(issued, by=by)
    return issued


def credit_invoice(invoice, *, reason, by, send):
    """Correct an issued invoice; keep the credit note's paper and, if asked, mail it. The credit note and its mail."""
    note = billing.credit(invoice, reason=reason, by=by)
    paper = making.invoice_paper(note, by=by)
    return note, mails.credit_note(note, paper, by=by) if send else None


def mail_invoice(invoice, *, by):
    """Put an issued invoice or credit note in the mail; None when the customer cannot be mailed."""
    paper = making.invoice_paper(invoice, by=by)
    return (mails.credit_note if invoice.is_credit_note else mails.invoice)(invoice, paper, by=by)


def mail_quote(order, *, by, valid_until=None):
    """Keep what the proposed lines would cost as the next quote, and mail it with its paper and the customer's page.

    Valid for QUOTE_DAYS unless told otherwise. Raises NotAllowed when nothing is proposed, or when the lines were
    changed while the paper was made.
    """
    workshop = place_of(order, Workshop.here())
    valid_until = valid_until or today() + QUOTE_DAYS
    account = account_of(order, workshop)
    if not account.proposed.lines:
        raise NotAllowed("Nothing is proposed that could be quoted.")
    content = papers.quote_pdf(order, workshop, valid_until)
    return _send_quote(order, workshop, account.proposed, content, valid_until, by=by)


@transaction.atomic
def _send_quote(order, workshop, proposed, content, valid_until, *, by):
    held = orders.locked(order)
    if account_of(held, workshop).proposed != proposed:
        raise NotAllowed("The lines were changed meanwhile. Look at them, then send the quote again.")
    sums = orders.sums_of(held, workshop) | {name: str(getattr(proposed, name)) for name in ("net", "tax", "total")}
    lines = [line for line in held.lines.all() if line.agreement == Agreement.PROPOSED]
    quote = orders.record_quote(held, lines, sums, valid_until=valid_until, by=by)
    name = papers.file_name(workshop, "quote", order.number, f"v{quote.version}")
    paper = papers.keep(order, PaperKind.QUOTE, content, name=name, by=by, about=f"quote:{quote.pk}")
    return mails.quote(order, paper, quote, by=by)


def mail_receipt_on_book_in(orders, *, by):
    """Called by the counter in the transaction that books a visit in: one mail for all that was brought."""
    return mails.receipt(orders, by=by)
