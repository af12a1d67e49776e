"""The counter: from one search box to a printed tag."""

from django.http import Http404
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.lib.keys import key_of, keys_of
from shop.orders import access, finding, photographing, services, tags
from shop.orders import counter as page
from shop.orders.alike import alike as find_alike
from shop.orders.forms import reshaping
from shop.orders.forms.booking import BookInForm
from shop.orders.forms.pieces import MOST_TOGETHER
from shop.orders.reckoning import reckoned
from shop.staff.access import may
from shop.staff.branching import here, place_of
from shop.staff.branching import place as place_here


@require_safe
@may("book in")
def counter(request):
    found = finding.find(request.GET.get("q", ""), request.user)
    if found.order:
        return redirect("order", found.order.number)
    customer, instruments = visit_of(request.GET)
    if not (customer or "new" in request.GET):
        return render(request, "counter/counter.html", {"found": found, **page.waiting_at_the_counter(here(request))})
    text = request.GET.get("new", "")
    form = page.start(place_here(request), customer=customer, instrument=instruments[1], text=text)
    return show_form(request, form)


@require_safe
@may("book in")
def found(request):
    """What the search box finds while somebody types."""
    return render(request, "counter/_found.html", {"found": finding.find(request.GET.get("q", ""), request.user)})


@require_safe
@may("book in")
def alike(request):
    """Who and what is on file like what is being typed. The serial number is that of any instrument of the visit."""
    serial = next((value for name, value in request.GET.items() if name.endswith("instrument-serial")), "")
    typed = {"phone": request.GET.get("customer-phone", ""), "email": request.GET.get("customer-email", "")}
    found = find_alike(**{name: text[:100] for name, text in (typed | {"serial": serial}).items()})
    shows = {"people": found.customers, "instruments": found.instruments, "customer": visit_of(request.GET)[0]}
    return render(request, "counter/_alike.html", shows)


@require_POST
@may("book in")
def reckon(request):
    """What the lines come to so far, and the promise that follows. Changes nothing."""
    form = bound_form(request)
    return render(request, "counter/_reckoned.html", {"reckoned": reckoned(form), "form": form, "is_anew": True})


@require_safe
@may("book in")
def another(request, place):
    """The part of the page for one more instrument: one on file, or one that is new here."""
    if not 1 < place <= MOST_TOGETHER:
        raise Http404("A visit has no such place.")
    key = key_of(request.GET.get("instrument"))
    workshop = place_here(request)
    piece = page.one_more(workshop, place, instrument=access.instrument(key) if key is not None else None)
    shows = {"piece": piece, "here": page.here_already(piece), "customer": visit_of(request.GET)[0]}
    return render(request, "counter/_piece.html", page.piece_with(workshop) | shows)


@require_http_methods(["GET", "HEAD", "POST"])
@may("book in")
def book_in(request):
    """Books in; opened by itself, as by reloading, it leads back to the counter, where the browser keeps the draft."""
    if request.method != "POST":
        return redirect(f"{reverse('counter')}?{request.GET.urlencode() or 'new'}")
    form = bound_form(request)
    if reshaping.asks(request.POST):
        return reshaped(request, form)
    if done := services.booked_already(form.draft_keys):  # sent again: by a double tap, or after its answer was lost
        return redirect("booked-in", done[0].number)
    problems = photographing.keep_with_form(form, by=request.user)
    is_whole = form.is_valid()
    if problems or not is_whole:
        return show_form(request, form, photo_problems=problems, status=422)
    try:
        orders = services.book_in_together(form.bookings(), by=request.user)
    except services.NotAllowed as refusal:
        form.first.job.add_error(None, str(refusal))
        return show_form(request, form, status=422)
    return redirect("booked-in", orders[0].number)


@require_safe
@may("book in")
def booked_in(request, number):
    """What was booked in, with all that came in the same visit."""
    orders = access.visit(request.user, number)
    printed = [tags.shown(one, place_of(one, request.workshop)) for one in orders]
    shows = {"orders": orders, "tags": printed}
    return render(request, "counter/booked_in.html", shows)


def bound_form(request):
    """The form as it was sent, and as its own buttons ask: with one instrument more or less, or one row more."""
    data = request.POST.copy()
    customer, instruments = visit_of(data)
    instruments, fresh = reshaping.without(instruments, data), None
    if reshaping.ANOTHER in data and (fresh := reshaping.next_place(instruments)):
        instruments[fresh] = _instrument(data, reshaping.ANOTHER)
    reshaping.to_be_signed_anew(data)
    reshaping.more_rows(data)
    return BookInForm(
        place_here(request), data=data, files=request.FILES, customer=customer, instruments=instruments, fresh=fresh
    )


def reshaped(request, form):
    """The page once more with all that is typed. Nothing is booked in, and nothing is said to be wrong yet."""
    problems = photographing.keep_with_form(form, by=request.user)
    dropped = key_of(request.POST.get(reshaping.DROP_PHOTO))
    if dropped is not None:
        services.remove_photo(access.draft_photo(request.user, dropped), by=request.user)
    reshaping.unjudged(form)
    return show_form(request, form, photo_problems=problems)


def show_form(request, form, *, photo_problems=(), status=200):
    shows = page.shown_with(form) | {"photo_problems": photo_problems, "is_refused": status == 422}
    return render(request, "counter/book_in.html", shows, status=status)


def visit_of(data):
    """(customer, {place: known instrument or None}) that the address or the form names, in the order of the page.

    The first instrument brings its owner along.
    """
    places = [1, *(place for place in keys_of(data.getlist("piece")) if 1 < place <= MOST_TOGETHER)]
    instruments = {place: _instrument(data, "instrument" if place == 1 else f"{place}-instrument") for place in places}
    key = key_of(data.get("customer"))
    if key is not None:
        return access.customer(key), instruments
    return (instruments[1].customer if instruments[1] else None), instruments


def _instrument(data, name):
    key = key_of(data.get(name))
    return access.instrument(key) if key is not None else None
