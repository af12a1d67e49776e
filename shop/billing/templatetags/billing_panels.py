"""What other rooms' pages show of money."""

from django import template

from shop.billing.einvoice.missing import missing_of
from shop.billing.letterhead import addressed
from shop.billing.models import Invoice
from shop.billing.pages import money_page, standing_of, unpaid
from shop.lib.dates import today
from shop.lib.paging import picked

register = template.Library()
MOST_FOUND = 8


@register.inclusion_tag("billing/_money_panel.html", takes_context=True)
def money_panel(context, order):
    """An order's money: what is due, received and open. Nothing for those who do not see money."""
    may = context["may"]
    if "see money" not in may:
        return {"may": may}
    return {"may": may, "order": order, "page": money_page(order, context["workshop"])}


@register.filter
def buyer_lines(invoice):
    """The address that an issued paper went to."""
    return addressed(invoice.snapshot["buyer"])["lines"]


@register.inclusion_tag("billing/_unpaid_panel.html", takes_context=True)
def unpaid_panel(context):
    """Unpaid invoices, the longest due first."""
    may = context["may"]
    rows, count = unpaid(context["user"]) if "see money" in may else ([], 0)
    return {"may": may, "rows": rows, "count": count}


@register.simple_tag(takes_context=True)
def unpaid_of(context, customer):
    """A customer's unpaid invoices. Nothing for those who do not see money."""
    if "see money" not in context["may"]:
        return []
    return list(Invoice.objects.for_person(context["user"]).unpaid().with_parties().filter(customer=customer))


@register.inclusion_tag("billing/_owes.html")
def customer_owes(customer, unpaid):
    """What a customer owes, when anything is open."""
    return {"customer": customer, "rows": unpaid, "today": today()}


@register.simple_tag(takes_context=True)
def found_invoices(context, found):
    """Invoices that the box's `found` may mean, newest first. Nothing for those who do not see money."""
    if "see money" not in context["may"] or not found.text:
        return []
    rows = Invoice.objects.for_person(context["user"])
    rows = rows.of_customers_or_number(found.text, found.whose, workshop=context["workshop"])
    return list(picked(rows.issued(), Invoice.objects.with_parties(), 0, MOST_FOUND))


@register.filter
def standing(invoice):
    """How an invoice stands: `{% with invoice|standing as stands %}{{ stands.word }}{% endwith %}`."""
    return standing_of(invoice)


@register.filter
def no_einvoice(invoice):
    """Why the invoice's paper carries no electronic one, a sentence; '' when it does."""
    return missing_of(invoice.snapshot["seller"])
