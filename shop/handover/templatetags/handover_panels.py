"""What other rooms' pages show of the hand-over: papers, mails, and the next thing to do."""

from django import template

from shop.handover import collecting, dunning, mails, pages, stating
from shop.handover.customer_page import address_of
from shop.handover.forms import QUOTE_UNTIL, ExpectForm, QuoteForm
from shop.handover.models import SilencedAddress
from shop.handover.month import progress_of
from shop.handover.services import QUOTE_DAYS
from shop.lib.dates import today
from shop.orders import services as orders
from shop.orders.states import State

register = template.Library()
FAILED_SHOWN = 3  # the newest; the list of mails has them all


@register.inclusion_tag("handover/_papers_panel.html", takes_context=True)
def papers_panel(context, order):
    """The order's kept papers and its mails with their state."""
    may = context["may"]
    refused = getattr(context.get("page"), "forms", {}).get("quote")
    form = refused or QuoteForm(initial={"valid_until": today() + QUOTE_DAYS}, auto_id=QUOTE_UNTIL)
    return {"order": order, "may": may, "panel": pages.papers_panel(order, may), "quote_form": form}


@register.inclusion_tag("handover/_customer_page.html")
def customer_page_panel(order):
    """The address of the customer's page, the quotes sent, and the customer's answers word by word."""
    link, is_quoted = orders.current_link(order), getattr(order, "has_quotes", True)
    is_answered = getattr(order, "has_answers", True)
    return {
        "order": order, "link": link, "address": address_of(link) if link else "",
        "quotes": list(order.quotes.all()) if is_quoted else [],
        "answers": list(order.answers.all()) if is_answered else [],
    }  # fmt: skip


@register.inclusion_tag("handover/_actions.html", takes_context=True)
def handover_actions(context, order):
    """What is next for the order: make it ready, or hand it over. Nothing for those who do neither."""
    may = "hand over" in context["may"]
    return {
        "order": order,
        "may_ready": may and order.state == State.CHECKED,
        "may_collect": may and order.state in pages.COLLECTABLE,
        "goes_back": order.state == State.DECLINED,
    }


@register.inclusion_tag("handover/_invoice_actions.html", takes_context=True)
def invoice_actions(context, invoice):
    """What can be done with an issued invoice: mail it, remind, correct it. Needs the right to bill."""
    may = context["may"]
    if "bill" not in may:
        return {"may": may}
    coming = dunning.standing_of(invoice)
    return {
        "may": may, "invoice": invoice, "why_not_mailed": mails.why_not(invoice.order.customer), "coming": coming,
        "may_credit": not invoice.is_credit_note and not invoice.is_credited,
    }  # fmt: skip


@register.inclusion_tag("handover/_mail_note.html", takes_context=True)
def mail_note(context, customer):
    """Beside a customer's address: why nothing reaches it, if so, and the mails that could not be sent."""
    address = customer.email.lower()
    silenced = SilencedAddress.objects.filter(address=address).first() if address else None
    failed = list(customer.mails.failed()[:FAILED_SHOWN])
    return {"customer": customer, "silenced": silenced, "failed": failed, "may": context["may"]}


@register.inclusion_tag("handover/_statements.html", takes_context=True)
def statements_panel(context, customer, unpaid):
    """The statements that were sent to a customer, and the button that sends one. Needs the right to see money."""
    may = context["may"]
    if "see money" not in may:
        return {"may": may}
    return {
        "may": may, "customer": customer, "owes": bool(unpaid), "papers": stating.sent_to(customer, context["user"]),
        "csrf_token": context["csrf_token"],
    }  # fmt: skip


@register.filter
def mail_word(mail):
    """A mail's state in words."""
    if mail.state == "sent" and mail.is_local:
        return "in the local outbox"
    if mail.state == "waiting" and mail.attempts:
        return "waiting, tried before"
    return mail.get_state_display()


@register.inclusion_tag("handover/_month_papers.html", takes_context=True)
def month_papers(context, month):
    """How many of a month's papers are made, and how to have the others."""
    return {"may": context["may"], "month": month, "progress": progress_of(month), "csrf_token": context["csrf_token"]}


@register.inclusion_tag("handover/_waits.html", takes_context=True)
def waits_panel(context, order):
    """How reminding of an instrument that waits stands, and a place to write down when the customer comes."""
    stands = collecting.standing_of(order, context["workshop"])
    form = ExpectForm(initial={"day": stands.comes_on if stands else None}, auto_id="expect-%s")
    return {
        "order": order, "stands": stands, "form": form, "may": "hand over" in context["may"],
        "csrf_token": context.get("csrf_token"),
    }  # fmt: skip


@register.simple_tag
def tell_waiting(waiting):
    """Gives each of these orders `told`: its reminders, and when the customer comes. One query in all."""
    found = collecting.told(waiting)
    for order in waiting:
        order.told = found.get(order.pk, "")
    return ""
