"""Lines of an order: picked, typed, changed, taken off, and answered by the customer."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from shop.orders import access, services
from shop.orders.forms.details import AnswerForm
from shop.orders.forms.lines import LineForm, OneLineForm, PickForm
from shop.orders.models import Agreement
from shop.orders.page import OrderPage
from shop.orders.views.common import attempt, show_order
from shop.staff.access import may

ANSWERS = {"agree": Agreement.AGREED, "decline": Agreement.DECLINED}


@require_POST
@may("edit lines")
def pick(request, number):
    order = access.order(request.user, number)
    form = PickForm(request.POST, prefix="pick")
    if not form.is_valid():
        return show_order(request, order, forms={"pick": form}, status=422)
    return write(request, order, form.new_line())


@require_POST
@may("edit lines")
def add(request, number):
    order = access.order(request.user, number)
    form = OneLineForm(request.POST, prefix="line")
    if not form.is_valid():
        return show_order(request, order, forms={"line": form}, status=422)
    return write(request, order, form.new_line(request.workshop.tax_rate))


def write(request, order, new_line):
    return attempt(
        request, order, lambda: services.add_lines(order, [new_line], by=request.user),
        says=f"Proposed: {new_line.text}.", at="work",
    )  # fmt: skip


@require_http_methods(["GET", "POST"])
@may("edit lines")
def change(request, number, pk):
    form = LineForm(request.POST or None, instance=access.line(request.user, number, pk))
    line = access.line(request.user, number, pk)
    if request.method == "POST" and form.is_valid():
        changes = form.changes
        return attempt(
            request, line.order, lambda: services.change_line(line, changes, by=request.user),
            says="Saved." if changes else "Nothing was changed.", at="work",
        )  # fmt: skip
    shows = {"form": form, "line": line, "page": OrderPage.of(line.order)}
    return render(request, "orders/line_form.html", shows, status=422 if form.is_bound else 200)


@require_POST
@may("edit lines")
def remove(request, number, pk):
    line = access.line(request.user, number, pk)
    return attempt(
        request, line.order, lambda: services.remove_line(line, by=request.user), says=f"Taken off: {line.text}.",
        at="work",
    )  # fmt: skip


@require_POST
@may("edit lines")
def ask_again(request, number, pk):
    line = access.line(request.user, number, pk)
    return attempt(
        request, line.order, lambda: services.ask_again(line, by=request.user), says="It waits for an answer again.",
        at="work",
    )  # fmt: skip


@require_POST
@may("edit lines")
def answer(request, number, answer):
    """The customer's answer to all proposed lines, or to those that are ticked."""
    order = access.order(request.user, number)
    form = AnswerForm(request.POST)
    if not form.is_valid():
        return show_order(request, order, problem="Say how the customer answered.", status=422)
    asked = [line for line in order.lines.all() if str(line.pk) in request.POST.getlist("line")]
    lines = asked or [line for line in order.lines.all() if line.agreement == Agreement.PROPOSED]
    if not lines:
        messages.error(request, "There is no line that waits for an answer.")
        return redirect("order", number)
    word = ANSWERS[answer]
    return attempt(
        request, order,
        lambda: services.answer_lines(order, lines, word, by=request.user, **form.cleaned_data),
        says=f"{word.label.capitalize()} {form.cleaned_data['how']}.", at="work",
    )  # fmt: skip
