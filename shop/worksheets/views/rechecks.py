"""The open worksheets judged anew, for the owner."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from shop.staff.access import may
from shop.worksheets import access, rechecking
from shop.worksheets.forms import RuleForm
from shop.worksheets.models import BenchRules
from shop.worksheets.services.errors import Refused
from shop.worksheets.shown.rechecks import RecheckPage


@require_safe
@may("edit profiles")
def page(request):
    return _show(request, RuleForm(instance=BenchRules.here()))


@require_POST
@may("edit profiles")
def rule(request):
    form = RuleForm(request.POST, instance=BenchRules.here())
    if not form.is_valid():
        return _show(request, form, status=422)
    rechecking.save_rule(form.save(commit=False))
    messages.success(request, "Worksheets that begin from now on are judged so. Re-check those that are open.")
    return redirect("recheck")


@require_POST
@may("edit profiles")
def begin(request):
    rechecking.begin(by=request.user)
    return redirect("recheck")


@require_POST
@may("edit profiles")
def go_on(request, pk):
    rechecking.go_on(access.recheck_to_run(request.user, pk))
    return redirect("recheck")


@require_POST
@may("edit profiles")
def stop(request, pk):
    rechecking.stop(access.recheck_to_run(request.user, pk))
    return redirect("recheck")


@require_POST
@may("edit profiles")
def take(request, pk):
    try:
        taken = rechecking.take_over(access.recheck_to_run(request.user, pk), by=request.user)
        messages.success(request, f"Open worksheets that took over today's targets and rule: {taken}.")
    except Refused as problem:
        messages.error(request, str(problem))
    return redirect("recheck")


def _show(request, form, status=200):
    return render(request, "worksheets/recheck.html", {"form": form, "page": RecheckPage.now()}, status=status)
