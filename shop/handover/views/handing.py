"""Making ready and handing over."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from shop.handover import collecting, services
from shop.handover.forms import CollectForm, ExpectForm
from shop.handover.pages import collect_page, ready_page
from shop.lib.pdf import PdfUnavailable
from shop.orders import access as orders
from shop.orders.services import NotAllowed
from shop.staff.access import may

GET_POST = require_http_methods(["GET", "HEAD", "POST"])


@GET_POST
@may("hand over")
def ready(request, number):
    order = orders.order(request.user, number)
    refused = ""
    if request.method == "POST":
        try:
            done = services.make_ready(order, by=request.user)
        except (NotAllowed, PdfUnavailable) as refusal:
            refused = str(refusal)
        else:
            _say(request, done)
            return redirect("order", number)
    shown = {"order": order, "page": ready_page(order, request.workshop), "refused": refused}
    return render(request, "handover/ready.html", shown, status=422 if refused else 200)


def _say(request, done):
    if done.was_ready:
        messages.info(request, "The order was made ready already; nothing was done twice.")
    elif done.mail:
        messages.success(request, f"Ready. The papers go to {done.mail.to}.")
    else:
        messages.warning(request, f"Ready. {done.why_not_mailed} Print the papers from this page.")


@GET_POST
@may("hand over")
def collect(request, number):
    order = orders.order(request.user, number)
    form = CollectForm(request.POST or None, order=order)
    if request.method == "POST" and form.is_valid():
        try:
            services.collect(order, by=request.user, **form.cleaned_data)
        except NotAllowed as refusal:
            form.add_error("reason", str(refusal))
        else:
            messages.success(request, f"{order.instrument} is handed over.")
            return redirect("order", number)
    shown = {"order": order, "page": collect_page(order, request.workshop), "form": form}
    return render(request, "handover/collect.html", shown, status=422 if form.errors else 200)


@require_POST
@may("hand over")
def expect(request, number):
    """When the customer comes to collect."""
    order, form = orders.order(request.user, number), ExpectForm(request.POST)
    if not form.is_valid():
        messages.error(request, " ".join(form.errors["day"]))
        return redirect("order", number)
    try:
        collecting.expect(order, form.cleaned_data["day"], by=request.user)
    except NotAllowed as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, "It is written down when the customer comes.")
    return redirect("order", number)
