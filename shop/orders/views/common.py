"""What the views of an order share: the page itself, and doing one thing that may be refused."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse

from shop.orders import services
from shop.orders.counter import rack
from shop.orders.page import OrderPage
from shop.staff.branching import place_of


def show_order(request, order, *, forms=None, moving="", problem="", status=200):
    """The order's page; `forms` are those that were not taken, by their name on the page."""
    page = OrderPage.of(order, forms=forms or {}, moving=moving)
    free = [] if page.is_closed else rack(place_of(order, request.workshop))
    shows = {"page": page, "order": page.order, "problem": problem, "rack": free}
    return render(request, "orders/order_detail.html", shows, status=status)


def attempt(request, order, action, *, says, at=""):
    """Do `action`; say what happened, or the sentence with which it was refused, on the order's page."""
    try:
        action()
        messages.success(request, says)
    except services.NotAllowed as refusal:
        messages.error(request, str(refusal))
    address = reverse("order", args=[order.number])
    return redirect(f"{address}#{at}" if at else address)
