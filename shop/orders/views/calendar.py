"""The bench's load by day, moving a promise in it, its private feed, and the bench's hours."""

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.lib.dates import read_day, today
from shop.lib.opening import week_of
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.lib.throttle import Throttle, network_of
from shop.orders import access, feed, listing, services
from shop.orders.benchtime import BenchTime
from shop.orders.forms.calendar import ClosedForm, HoursForm, MovePromiseForm, OpeningForm
from shop.orders.load import BenchCalendar
from shop.orders.models import ClosedDays
from shop.orders.opening import keep_week, opening_at
from shop.orders.promising import overload
from shop.staff.access import may
from shop.staff.branching import here, place, place_of

FEED_GUESSES = Throttle("calendar-feed-guess", free=12, first_wait_s=2, longest_wait_s=600, forget_after_s=3600)


@require_safe
@may("see orders")
def calendar(request):
    start = read_day(request.GET.get("from")) or today()
    shown = {
        "calendar": BenchCalendar.of(
            _within_reach(start), place=place(request), whole=read_day(request.GET.get("whole"))
        ),
        "opening": opening_at(place(request), since=start), "today": today(),
        "feed": feed.feed_of(request.user), "feed_start": request.build_absolute_uri("/")[:-1],
    }  # fmt: skip
    return render(request, "orders/calendar.html", shown)


def _within_reach(day):
    """A year that no calendar can add weeks to is shown as today."""
    return day if abs((day - today()).days) < 3660 else today()


@require_POST
@may("move orders")
def move(request):
    form = MovePromiseForm(request.POST, place=place(request))
    back = request.POST.get("from", "")
    address = reverse("calendar") + (f"?from={back}" if read_day(back) else "")
    if not form.is_valid():
        messages.error(request, form.errors["day"][0] if "day" in form.errors else "There is no such order.")
        return redirect(address)
    order, day = access.order(request.user, form.cleaned_data["number"]), form.cleaned_data["day"]
    try:
        services.promise(order, day, by=request.user, reason="moved in the calendar")
    except services.NotAllowed as refusal:
        messages.error(request, str(refusal))
        return redirect(address)
    warning = overload(day, place=place_of(order, request.workshop))
    if warning:
        messages.warning(request, f"{order} is promised for {day:%a} {day.day} {day:%b}. {warning}")
    else:
        messages.success(request, f"{order} is promised for {day:%a} {day.day} {day:%b}.")
    # All of its day is shown, so that the job is among them however many there are.
    return redirect(f"{address}{'&' if '?' in address else '?'}whole={day:%Y-%m-%d}#o-{order.number}")


@require_POST
@may("see orders")
def feed_renew(request):
    feed.renew_feed(request.user)
    messages.success(request, "Your calendar has a new address. An older one opens nothing any more.")
    return redirect(reverse("calendar") + "#feed")


@require_POST
@may("see orders")
def feed_withdraw(request):
    feed.withdraw_feed(request.user)
    messages.success(request, "The address of your calendar is withdrawn.")
    return redirect(reverse("calendar") + "#feed")


@login_not_required
@require_safe
def feed_file(request, key):
    network = network_of(request)
    known = None if FEED_GUESSES.wait(network) else feed.feed_with(key)
    if known is None:
        return HttpResponse("", status=429 if FEED_GUESSES.take(network) else 404)
    content = feed.calendar_text(request.workshop, known.person)
    answer = HttpResponse(content, content_type="text/calendar; charset=utf-8")
    answer["Cache-Control"] = "private, no-store"
    answer["Content-Disposition"] = 'inline; filename="promises.ics"'
    return answer


@require_http_methods(["GET", "HEAD", "POST"])
@may("edit workshop")
def hours(request):
    form = HoursForm(request.POST or None, bench=_bench(request))
    if request.method == "POST" and form.is_valid():
        form.keep(here(request))
        messages.success(request, "The bench’s hours are saved. Promises are proposed by them from now on.")
        return redirect("bench-hours")
    return _hours_page(request, form, ClosedForm(person=request.user))


@require_POST
@may("edit workshop")
def opening_hours(request):
    form = OpeningForm(request.POST, week=week_of(place(request).opening_hours))
    if not form.is_valid():
        return _hours_page(request, HoursForm(bench=_bench(request)), ClosedForm(person=request.user), form)
    keep_week(place(request), form.week)
    messages.success(request, "The opening hours are saved. Customers see them, and nothing is promised outside them.")
    return redirect("bench-hours")


@require_POST
@may("edit workshop")
def closed_add(request):
    form = ClosedForm(request.POST, person=request.user)
    if not form.is_valid():
        return _hours_page(request, HoursForm(bench=_bench(request)), form)
    form.save()
    messages.success(request, f"Closed for {form.instance}.")
    return redirect("bench-hours")


@require_POST
@may("edit workshop")
def closed_remove(request, pk):
    ClosedDays.objects.filter(pk=pk).delete()
    messages.success(request, "The bench works on these days again.")
    return redirect("bench-hours")


@require_safe
@may("export")
def closed_csv(request):
    """The closed days to come, for a spreadsheet."""
    rows = listing.closed_rows(listing.closed_days(request.GET)[0])
    return csv_download(f"closed-days-{today()}.csv", listing.CLOSED_HEADS, rows)


def _bench(request):
    return BenchTime.here(place(request), since=today())


def _hours_page(request, form, closed_form, opening_form=None):
    week = week_of(place(request).opening_hours)
    opening_form = opening_form or OpeningForm(week=week)
    found, sorting = listing.closed_days(request.GET)
    shown = {
        "form": form, "closed_form": closed_form, "page": page_of(request, found), "sorting": sorting,
        "opening_form": opening_form, "week": week, "as_written": place(request).opening_hours,
    }  # fmt: skip
    status = 422 if form.errors or closed_form.errors or opening_form.errors else 200
    return render(request, "orders/bench_hours.html", shown, status=status)
