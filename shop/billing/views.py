"""Invoices, and the money of an order."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from shop.billing import access, papers, services
from shop.billing.forms import DiscountForm, GiveBackForm, ListForm, ReceiveForm, TreatmentForm, UndoForm
from shop.billing.models import Invoice
from shop.billing.pages import CSV_HEADS, csv_rows, money_page
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.orders import access as orders
from shop.staff.access import may


@require_safe
@may("see money")
def invoices(request):
    form = ListForm(request.GET, person=request.user)
    found = form.found()
    shown = {
        "form": form, "page": page_of(request, found, shown=Invoice.objects.with_parties()), "sorting": form.sorting,
        "sums": form.sums(found, request.workshop.currency),
    }  # fmt: skip
    return render(request, "billing/invoice_list.html", shown)


@require_safe
@may("export")
def invoices_csv(request):
    rows = ListForm(request.GET, person=request.user).found(whole=True).iterator(chunk_size=500)
    return csv_download("invoices.csv", CSV_HEADS, csv_rows(rows))


@require_safe
@may("see money")
def invoice(request, pk):
    one = access.issued_invoice(request.user, pk)
    return render(request, "billing/invoice_detail.html", {"invoice": one, "order": one.order})


@require_safe
@may("see money")
def money(request, number):
    return _money(request, orders.order(request.user, number))


def _money(request, order, status=200, **typed):
    page = money_page(order, request.workshop, **typed)
    return render(request, "billing/money.html", {"order": order, "page": page}, status=status)


def _carry_out(request, number, service, *, says, **typed):
    """Do what one form of the money page asks for, or show the page with the form as it was typed."""
    order, (form,) = orders.order(request.user, number), typed.values()
    if form.is_valid() and form.carry_out(service, order, by=request.user):
        messages.success(request, says)
        return redirect("order-money", number)
    return _money(request, order, 422, **typed)


@require_safe
@may("see money")
def draft(request, number):
    """The invoice as it would be now, marked as a draft."""
    content = papers.draft_pdf(orders.order(request.user, number), request.workshop)
    return HttpResponse(content, content_type="application/pdf")


@require_POST
@may("bill")
def discount(request, number):
    form = DiscountForm(request.POST)
    return _carry_out(request, number, services.set_discount, says="The discount is saved.", discount=form)


@require_POST
@may("bill")
def treatment(request, number):
    """With tax as usual, or without it to a firm in another member state."""
    form = TreatmentForm(request.POST)
    return _carry_out(request, number, services.set_treatment, says="How it is taxed is saved.", treatment=form)


@require_POST
@may("take payment")
def receive(request, number):
    form = ReceiveForm(request.POST)
    return _carry_out(request, number, services.receive, says="The payment is written down.", receive=form)


@require_POST
@may("take payment")
def give_back(request, number):
    form = GiveBackForm(request.POST)
    return _carry_out(request, number, services.give_back, says="What was given back is written down.", give_back=form)


@require_POST
@may("take payment")
def undo_payment(request, pk):
    payment = access.payment(request.user, pk)
    form = UndoForm(request.POST)
    if form.is_valid() and form.carry_out(services.undo_payment, payment, by=request.user):
        messages.success(request, "The entry is taken back; both stay on record.")
        return redirect("order-money", payment.order.number)
    return _money(request, orders.order(request.user, payment.order.number), 422, undo=form, undone_pk=pk)
