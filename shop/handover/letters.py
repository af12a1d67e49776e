"""A reminder as a letter, for those whom no mail reaches: the same words on the workshop's paper, to be posted."""

from django.db import transaction

from shop.billing import letterhead
from shop.billing.account import account_of
from shop.billing.epc import payment_code
from shop.handover import dunning, papers
from shop.handover.models import PaperKind, Reminder
from shop.handover.wordings import MAILS
from shop.handover.writing import around_facts, filled, words_of
from shop.lib.dates import today
from shop.lib.stationery import paper_pdf
from shop.orders import services as orders
from shop.orders.services import NotAllowed
from shop.staff.branching import place_of
from shop.staff.models import Workshop


def write(invoice, *, by):
    """Keep the reminder that is due as a letter, and count it as sent. Returns the Paper.

    Raises NotAllowed as `dunning.remind` does, and when something was paid while the letter was made.
    """
    with transaction.atomic():
        held, coming = dunning.may_go_now(invoice)
    workshop = place_of(held.order, Workshop.here())
    return _keep(held, coming, reminder_pdf(held, coming.name, workshop), workshop, by=by)


@transaction.atomic
def _keep(invoice, coming, content, workshop, *, by):
    held, now = dunning.may_go_now(invoice)
    if (now, held.balance.open_amount) != (coming, invoice.balance.open_amount):
        raise NotAllowed("What is open was changed meanwhile. Look at it, then write the letter again.")
    name = papers.file_name(workshop, coming.title, held.number)
    letter = papers.keep(held.order, PaperKind.REMINDER, content, name=name, by=by)
    dunning.keep(held, coming, by=by, letter=letter)
    text = f"{coming.title} of invoice {held.number} written as a letter."
    orders.note(held.order, by=by, what="reminded", text=text, paper=letter.pk)
    return letter


@transaction.atomic
def take_back(invoice, *, by):
    """The last letter was not posted after all: it does not count, and its paper stays as what was made that day.

    Raises NotAllowed when the last reminder was no letter.
    """
    orders.locked(invoice.order)
    last = Reminder.objects.filter(invoice=invoice).last()
    if last is None or last.letter_id is None:
        raise NotAllowed("The last reminder of this invoice was no letter.")
    last.delete()
    text = f"The letter that reminds of invoice {invoice.number} was not posted."
    orders.note(invoice.order, by=by, what="reminder_taken_back", text=text, paper=last.letter_id)


def reminder_pdf(invoice, name, workshop):
    """The letter, in bytes; `name` is one of wordings.REMINDERS, whose words it has."""
    order, owed, words = invoice.order, invoice.balance.open_amount, words_of(name)
    head = letterhead.head_of(workshop)
    given = {
        "order": order, "customer": order.customer, "instrument": order.instrument, "workshop": workshop,
        "invoice": invoice, "account": account_of(order, workshop),
    }  # fmt: skip
    before, after = around_facts(name, words.body, given)
    code = payment_code({"seller": head["seller"], "currency": invoice.currency, "due": str(owed)}, invoice.number)
    context = head | {
        "title": MAILS[name].title, "subject": filled(name, words.subject, given), "before": before, "after": after,
        "buyer": letterhead.addressed(letterhead.buyer_of(order.customer)),
        "order": order, "number": invoice.number, "issued_on": invoice.issued_on, "due_on": invoice.due_on,
        "made_on": today(), "total": invoice.total, "received": invoice.total - owed, "open": owed,
        "currency": invoice.currency, "code": code,
    }  # fmt: skip
    return paper_pdf("reminder", context, size=workshop.paper)
