"""The quote sent, and the address of the customer's page, from the order's page."""

from django.contrib import messages
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from shop.handover import services
from shop.handover.forms import QUOTE_UNTIL, QuoteForm
from shop.lib.pdf import PdfUnavailable
from shop.orders import access as orders
from shop.orders import services as order_services
from shop.orders.services import NotAllowed
from shop.orders.views.common import show_order
from shop.staff.access import may


@require_POST
@may("bill")
def quote(request, number):
    order = orders.order(request.user, number)
    form = QuoteForm(request.POST, auto_id=QUOTE_UNTIL)
    if not form.is_valid():
        return show_order(request, order, forms={"quote": form}, status=422)
    try:
        mail = services.mail_quote(order, by=request.user, valid_until=form.cleaned_data["valid_until"])
    except (NotAllowed, PdfUnavailable) as refusal:
        messages.error(request, str(refusal))
    else:
        if mail:
            messages.success(request, f"The quote goes to {mail.to}.")
        else:
            messages.warning(request, "The quote is kept; the customer is not mailed, so print it from this page.")
    return redirect("order", number)


@require_POST
@may("bill")
def renew(request, number):
    order_services.renew_link(orders.order(request.user, number), by=request.user)
    messages.success(request, "The customer’s page has a new address. An older one opens nothing any more.")
    return redirect("order", number)


@require_POST
@may("bill")
def withdraw(request, number):
    order_services.withdraw_link(orders.order(request.user, number), by=request.user)
    messages.success(request, "The address of the customer’s page is withdrawn.")
    return redirect("order", number)
