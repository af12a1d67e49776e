"""The counter: from one search box to a printed tag."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.lib.keys import key_of
from shop.orders import access, finding, photographing, services, tags
from shop.orders import counter as page
from shop.orders.alike import alike as find_alike
from shop.orders.forms.booking import BookInForm
from shop.orders.reckoning import reckoned
from shop.staff.access import may


@require_safe
@may("book in")
def counter(request):
    found = finding.find(request.GET.get("q", ""))
    if found.order:
        return redirect("order", found.order.number)
    customer, instrument = chosen(request.GET)
    if not (customer or instrument or "new" in request.GET):
        return render(request, "counter/counter.html", {"found": found, **page.waiting_at_the_counter()})
    form = page.start(request.workshop, customer=customer, instrument=instrument, text=request.GET.get("new", ""))
    return show_form(request, form)


@require_safe
@may("book in")
def found(request):
    """What the search box finds while somebody types."""
    return render(request, "counter/_found.html", {"found": finding.find(request.GET.get("q", ""))})


@require_safe
@may("book in")
def alike(request):
    """Who and what is on file like what is being typed."""
    typed = {
        name: request.GET.get(key, "")[:100]
        for name, key in (("phone", "customer-phone"), ("email", "customer-email"), ("serial", "instrument-serial"))
    }
    customer, _ = chosen(request.GET)
    return render(request, "counter/_alike.html", {"alike": find_alike(**typed), "customer": customer})


@require_POST
@may("book in")
def reckon(request):
    """What the lines come to so far, and the promise that follows. Changes nothing."""
    form = BookInForm(request.workshop, data=request.POST)
    return render(request, "counter/_reckoned.html", {"reckoned": reckoned(form)})


@require_http_methods(["GET", "HEAD", "POST"])
@may("book in")
def book_in(request):
    """Books in; opened by itself, as by reloading, it leads back to the counter, where the browser keeps the draft."""
    if request.method != "POST":
        return redirect(f"{reverse('counter')}?{request.GET.urlencode() or 'new'}")
    customer, instrument = chosen(request.POST)
    form = BookInForm(
        request.workshop, data=request.POST, files=request.FILES, customer=customer, instrument=instrument
    )
    is_whole = form.is_valid()
    problems = photographing.keep_with_draft(form.job, by=request.user)
    if problems or not is_whole:
        return show_form(request, form, photo_problems=problems, status=422)
    order = services.book_in(form.booking(), by=request.user)
    return redirect("booked-in", order.number)


@require_safe
@may("book in")
def booked_in(request, number):
    order = access.order(number)
    shows = tags.shown(order, request.workshop) | {"sizes": tags.SIZES}
    return render(request, "counter/booked_in.html", shows)


def show_form(request, form, *, photo_problems=(), status=200):
    shows = page.shown_with(form) | {"photo_problems": photo_problems}
    if status == 422:
        messages.error(request, "Not booked in yet. Nothing you typed is lost.")
    return render(request, "counter/book_in.html", shows, status=status)


def chosen(data):
    """(customer, instrument) that the address or the form names; an instrument brings its owner along."""
    instrument_key, customer_key = key_of(data.get("instrument")), key_of(data.get("customer"))
    instrument = access.instrument(instrument_key) if instrument_key is not None else None
    if customer_key is not None:
        return access.customer(customer_key), instrument
    return (instrument.customer if instrument else None), instrument
