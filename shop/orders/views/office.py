"""Where each role begins its day, and the office."""

from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

from shop.lib.dates import today, week_of
from shop.orders.models import WorkOrder
from shop.staff.access import may
from shop.staff.roles import Role

BEGINS_AT = {Role.COUNTER: "counter", Role.BENCH: "bench", Role.OWNER: "office"}
MOST = 30


@require_safe
@may("see orders")
def home(request):
    return redirect(BEGINS_AT[Role(request.user.role)])


@require_safe
@may("see orders")
def office(request):
    orders, now = WorkOrder.objects.with_parties(), today()
    groups = [
        ("Late", "late", "Nothing is late.", orders.late(today=now)[:MOST]),
        ("Promised this week", "week", "Nothing is promised for this week.",
         orders.promised_between(now, week_of(now)[1])[:MOST]),
        ("Waiting", "waiting", "Nothing waits.", orders.waiting()[:MOST]),
        ("Ready, not collected", "ready", "Everything that was ready has been collected.", orders.ready()[:MOST]),
        ("Taken in, nothing agreed yet", "open", "Every order that came in has its answer.",
         orders.not_started()[:MOST]),
    ]  # fmt: skip
    return render(request, "orders/office.html", {"groups": groups, "today": now})
