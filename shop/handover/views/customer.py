"""The customer's own page, opened by its address alone. It says nothing to whoever does not have that address."""

from functools import wraps

from django.contrib.auth.decorators import login_not_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from shop.handover import access
from shop.handover.customer_page import CustomerPage, link_for
from shop.handover.forms import QuoteAnswerForm
from shop.handover.models import PaperDamaged
from shop.lib.throttle import said
from shop.orders import services as orders
from shop.orders.services import NotAllowed
from shop.staff.branching import place_of


def by_address(view):
    """Finds the order that the address names, and keeps the page out of caches, indexes and referrers."""

    @wraps(view)
    def guarded(request, token, *args, **kwargs):
        link, wait = link_for(request, token)
        if wait:
            answer = render(request, "customer/wait.html", {"wait": said(wait)}, status=429)
            answer["Retry-After"] = str(int(wait) + 1)
        elif link is None:
            answer = render(request, "customer/gone.html", status=404)
        else:
            answer = view(request, token, link, *args, **kwargs)
        answer["Cache-Control"] = "private, no-store"
        answer["Referrer-Policy"] = "same-origin"  # with no-referrer browsers send Origin: null, and no answer counts
        answer["X-Robots-Tag"] = "noindex, nofollow"
        return answer

    return login_not_required(guarded)


@by_address
@require_safe
def page(request, token, link):
    orders.opened(link)
    return _shown(request, token, link)


@by_address
@require_POST
def answer(request, token, link):
    page = CustomerPage.of(link.order)
    form = QuoteAnswerForm(request.POST, page=page)
    if not form.is_valid():
        return _shown(request, token, link, form, 422)
    try:
        orders.answer_quote(link.order, form.cleaned_data["version"], form.answers, name=form.cleaned_data["name"])
    except NotAllowed as refusal:
        form.add_error(None, str(refusal))
        return _shown(request, token, link, form, 422)
    return redirect(f"{request.path.removesuffix('answer/')}?thanks#quote")


@by_address
@require_safe
def paper(request, token, link, pk, name):
    one = access.paper_of(link.order, pk)
    try:
        content = one.read()
    except PaperDamaged:
        return render(request, "customer/gone.html", status=404)
    answer = HttpResponse(content, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{one.name}"'
    return answer


def _shown(request, token, link, form=None, status=200):
    page = CustomerPage.of(link.order)
    shown = {
        "token": token, "page": page, "order": link.order, "form": form or QuoteAnswerForm(page=page),
        "thanks": "thanks" in request.GET, "workshop": place_of(link.order, request.workshop),
    }  # fmt: skip
    return render(request, "customer/page.html", shown, status=status)
