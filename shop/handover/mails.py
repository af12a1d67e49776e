"""Every mail that goes out, by name. Each puts one mail in the queue, in the caller's transaction.

They return the queued mail, or None when the customer cannot or will not be mailed; `why_not` says which.
"""

from django.conf import settings
from django.db import transaction
from django.utils import timezone

from shop.billing import statements
from shop.billing.account import account_of
from shop.handover.customer_page import address_of
from shop.handover.marks import marks_of
from shop.handover.models import MailState, OutgoingMail, PaperKind, SilencedAddress
from shop.handover.writing import written
from shop.lib import mail, money
from shop.orders import services as orders
from shop.staff.branching import place_of
from shop.staff.models import Workshop


def why_not(customer, *, silenced=None):
    """Why nothing can be mailed to `customer`, a sentence; '' when it can. `silenced` as `silenced_among` gives it."""
    if not customer.email:
        return f"{customer.name} has no e-mail address."
    if not customer.mail_agreed:
        return f"{customer.name} does not want to be mailed."
    silenced = silenced_among([customer]) if silenced is None else silenced
    if reason := silenced.get(customer.email.lower()):
        return f"Nothing is sent to {customer.email} any more: {reason}"
    return ""


def silenced_among(customers):
    """{address: why} of those customers' addresses to which nothing is sent. One query."""
    addresses = {one.email.lower() for one in customers if one.email}
    return dict(SilencedAddress.objects.filter(address__in=addresses).values_list("address", "reason"))


def receipt(visit, *, by):
    """What was taken in in a visit: marks, promises, the terms. The worker makes the PDF before it sends.

    Each of the orders has an address of its own for the customer's page.
    """
    first, *others = visit
    pieces = [{"order": one, "instrument": one.instrument, "marks": marks_of(one)} for one in visit]
    if not why_not(first.customer):
        for piece in pieces:
            piece["page"] = address_of(orders.link_for_mail(piece["order"], by=by))
    context = {"visit": visit, "left": pieces} | ({"page": ""} if others else {})  # each has its own beside it
    queued = _queue("receipt", first, context, by=by, makes=PaperKind.RECEIPT)
    for one in others if queued else ():
        text = f"Mail “{queued.subject}” to {queued.to} queued."
        orders.note(one, by=by, what="mailed", text=text, mail=queued.pk)
    return queued


def quote(order, paper, kept, *, by):
    """What the proposed work would cost, for the customer to agree."""
    context = {"account": account_of(order, Workshop.here()), "quote": kept}
    return _queue("quote", order, context, by=by, papers=[paper])


def ready(order, papers, *, by):
    """The instrument is ready; with the invoice, if there is one, and the handover sheet."""
    return _queue("ready", order, {"account": account_of(order, Workshop.here())}, by=by, papers=papers)


def waits(order, *, by):
    """The instrument is ready and waits to be collected."""
    return _queue("waits", order, {"account": account_of(order, Workshop.here())}, by=by)


def invoice(issued, paper, *, by):
    """An issued invoice by itself."""
    return _queue("invoice", issued.order, _money(issued), by=by, papers=[paper])


def credit_note(note, paper, *, by):
    return _queue("credit-note", note.order, _money(note), by=by, papers=[paper])


def reminder(name, issued, paper, *, by):
    """An invoice that is overdue: `name` is one of wordings.REMINDERS."""
    return _queue(name, issued.order, _money(issued), by=by, papers=[paper])


def statement(order, rows, paper, *, by):
    """Everything that the customer of `order` owes: `rows` as billing.statements.owed_by gives them."""
    sums = statements.sums_of(rows).items()
    context = {"rows": rows, "open": " and ".join(money.shown(*reversed(one)) for one in sums), "page": ""}
    return _queue("statement", order, context, by=by, papers=[paper])


def _money(issued):
    return {"invoice": issued, "account": account_of(issued.order, Workshop.here())}


@transaction.atomic
def _queue(name, order, context, *, by, papers=(), makes=""):
    customer = order.customer
    if why_not(customer):
        return None
    workshop = place_of(order, Workshop.here())
    context = {
        "order": order, "customer": customer, "instrument": order.instrument, "workshop": workshop,
        "page": address_of(orders.link_for_mail(order, by=by)),
    } | context  # fmt: skip
    subject, text, html = written(name, context)
    queued = OutgoingMail(
        name=name, order=order, customer=customer, to=customer.email, to_name=mail.one_line(customer.name, 120),
        sender=sender(workshop), reply_to=workshop.email, subject=subject, text=text, html=html, makes=makes,
        message_id=mail.new_message_id(settings.PUBLIC_ADDRESS), state=MailState.WAITING,
        next_try_at=timezone.now(), queued_at=timezone.now(), by=by,
    )  # fmt: skip
    queued.save(force_insert=True)
    queued.papers.add(*papers)
    orders.note(order, by=by, what="mailed", text=f"Mail “{subject}” to {customer.email} queued.", mail=queued.pk)
    return queued


def sender(workshop):
    """The From header: the address that a setting names, or the workshop's own."""
    return mail.address(workshop.name, settings.MAIL_FROM or workshop.email or settings.DEFAULT_FROM_EMAIL)
