"""Money received, given back, and the mistaken entry taken back. One key is one payment, however often it is sent."""

from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from shop.billing.account import account_of
from shop.billing.models import Payment
from shop.billing.services.common import MoneyRefused, locked, settle
from shop.lib import money
from shop.lib.dates import today
from shop.orders import services as orders


@transaction.atomic
def receive(order, *, amount, kind, key, by, received_on=None, note=""):
    """Record money received for `order`: a deposit while there is no invoice, otherwise a payment of it.

    Raises MoneyRefused for nothing or less, for a day to come, and for more than is open on the invoice.
    """
    held, workshop = locked(order)
    if known := _known(held, key):
        return known
    account = account_of(held, workshop)
    amount = money.rounded(amount, account.currency)
    received_on = received_on or today()
    if amount <= 0:
        raise MoneyRefused("Write an amount above zero; money given back has its own form.", "amount")
    if received_on > today():
        raise MoneyRefused("A payment cannot be received on a day to come.", "received_on")
    if account.standing and amount > account.to_pay:
        raise MoneyRefused(f"Only {money.shown(account.to_pay, account.currency)} is open.", "amount")
    return _write(
        held, account, amount=amount, kind=kind, key=key, by=by, received_on=received_on, note=note.strip(),
        is_deposit=account.standing is None,
    )  # fmt: skip


@transaction.atomic
def give_back(order, *, amount, kind, key, by, reason, received_on=None):
    """Record money given back to the customer, `amount` above zero.

    Raises MoneyRefused without a reason, and for more than was received; with a standing invoice only what is too
    much may go back: the rest needs a credit note first.
    """
    held, workshop = locked(order)
    if known := _known(held, key):
        return known
    account = account_of(held, workshop)
    amount = money.rounded(amount, account.currency)
    if amount <= 0:
        raise MoneyRefused("Write how much is given back, above zero.", "amount")
    if not reason.strip():
        raise MoneyRefused("Say why money is given back.", "reason")
    most = account.to_give_back if account.standing else account.received
    if amount > most:
        could = money.shown(max(most, Decimal(0)), account.currency)
        more = " A credit note comes before the rest." if account.standing else ""
        raise MoneyRefused(f"At most {could} can be given back.{more}", "amount")
    return _write(
        held, account, amount=-amount, kind=kind, key=key, by=by, received_on=received_on or today(),
        note=reason.strip(), is_deposit=False,
    )  # fmt: skip


@transaction.atomic
def undo_payment(payment, *, reason, key, by):
    """Take back a payment that was written by mistake: a second entry cancels it, both stay on record."""
    held, workshop = locked(payment.order)
    if known := _known(held, key):
        return known
    payment = Payment.objects.select_related("undone_by", "undoes").get(pk=payment.pk)
    if payment.is_undone or payment.undoes_id:
        raise MoneyRefused("This entry has been taken back already.")
    if not reason.strip():
        raise MoneyRefused("Say what was wrong with the entry.", "reason")
    return _write(
        held, account_of(held, workshop), amount=-payment.amount, kind=payment.kind, key=key, by=by,
        received_on=today(), note=reason.strip(), is_deposit=payment.is_deposit, undoes=payment,
    )  # fmt: skip


def _known(held, key):
    """The payment that this key has made already, if any."""
    known = Payment.objects.filter(key=key).first()
    if known and known.order_id != held.pk:
        raise MoneyRefused("This form belongs to another order; open it again.")
    return known


def _write(held, account, *, amount, by, **fields):
    payment = Payment.objects.create(
        order=held, branch_id=held.branch_id, amount=amount, at=timezone.now(), by=by, **fields
    )
    settle(held)
    orders.note(held, by=by, what="payment", text=_said(payment, account.currency), payment=payment.pk)
    return payment


def _said(payment, currency):
    amount = money.shown(abs(payment.amount), currency)
    how = payment.get_kind_display()
    if payment.undoes_id:
        return f"Entry of {amount} ({how}) taken back: {payment.note}"
    if payment.amount < 0:
        return f"{amount} given back ({how}): {payment.note}"
    return f"{'Deposit' if payment.is_deposit else 'Payment'} of {amount} received ({how})."
