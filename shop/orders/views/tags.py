"""The tag on paper, and what its code opens."""

from django.http import Http404, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_safe

from shop.orders import access, hooks, tags
from shop.staff.access import may
from shop.staff.branching import place_of


@require_safe
@may("see orders")
def tag_pdf(request, number):
    return _printed(request, [access.order(request.user, number)], f"tag-{number}")


@require_safe
@may("see orders")
def visit_tags(request, number):
    """The tags of all that came together, to print at once."""
    return _printed(request, access.visit(request.user, number), f"tags-{number}")


def _printed(request, orders, name):
    size = request.GET.get("size", "label")
    if size not in tags.SIZES:
        raise Http404("There is no tag of this size.")
    content = tags.render(orders, place_of(orders[0], request.workshop), size=size)
    answer = HttpResponse(content, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}-{size}.pdf"'
    return answer


@require_safe
@may("see orders")
def scanned(request, number):
    """Where a scanned tag leads this person: the bench to the open worksheet, others to the order."""
    order = access.order(request.user, number)
    elsewhere = hooks.scanned(order, request.user)
    return redirect(elsewhere) if elsewhere else redirect("order", number)
