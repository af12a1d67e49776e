"""The statement of all that a customer owes: kept as it was sent, and sent once a day unless something changed."""

import hashlib

from django.db import transaction

from shop.billing import statements
from shop.handover import mails, papers
from shop.handover.models import UNSENT, Paper, PaperKind
from shop.lib.dates import today
from shop.orders import services as orders
from shop.orders.services import NotAllowed
from shop.staff.branching import within
from shop.staff.models import Workshop


def mail_statement(customer, *, by):
    """Keep the statement of what `customer` owes and mail it; None when the customer cannot be mailed.

    Raises NotAllowed when nothing is open, when the same has gone today, and when something was paid meanwhile.
    """
    workshop, rows = Workshop.here(), statements.owed_by(customer, by)
    if not rows:
        raise NotAllowed(f"Nothing that {customer} owes is open.")
    content = statements.statement_pdf(customer, workshop, rows)
    return _send(customer, workshop, rows, content, by=by)


@transaction.atomic
def _send(customer, workshop, rows, content, *, by):
    """It is filed with the order of the invoice that is due longest."""
    order = orders.locked(rows[0].order)  # two who press at once: the second finds the first one's paper
    about = _about(customer, rows)
    if _about(customer, statements.owed_by(customer, by)) != about:
        raise NotAllowed("What is open was changed meanwhile. Look at it, then send the statement again.")
    known = Paper.objects.about(about)
    if known and known.mails.exclude(state__in=UNSENT).exists():
        raise NotAllowed(f"The same statement has gone to {customer} today already.")
    name = papers.file_name(workshop, "statement", f"{today():%Y-%m-%d}")
    paper = known or papers.keep(order, PaperKind.STATEMENT, content, name=name, by=by, about=about)
    return mails.statement(order, rows, paper, by=by)


def _about(customer, rows):
    said = ",".join(f"{one.pk}={one.balance.open_amount}" for one in rows)
    return f"statement:{customer.pk}:{today():%Y%m%d}:{hashlib.sha256(said.encode()).hexdigest()[:16]}"


def sent_to(customer, person=None, most=5):
    """The newest statements that were kept of `customer`, with their mails; for `person`, those they see."""
    kept = Paper.objects.filter(kind=PaperKind.STATEMENT, order__customer=customer)
    kept = kept if person is None else within(kept, person, "order__branch")
    return list(kept.select_related("order").prefetch_related("mails")[:most])
