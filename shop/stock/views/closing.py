"""The shelf of a branch that is to be closed goes to another one."""

from django.contrib import messages
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from shop.staff import access as staff
from shop.staff.access import may
from shop.stock import closing
from shop.stock.forms.shelf import WholeShelfForm


@require_POST
@may("edit workshop")
def send_all_on(request, pk):
    """Everything on the shelf of this branch goes to the one that was chosen."""
    branch = staff.branch(pk)
    form = WholeShelfForm(request.POST, branch=branch)
    if not form.is_valid():
        messages.error(request, " ".join(said for errors in form.errors.values() for said in errors))
        return redirect("branch", pk)
    to = form.cleaned_data["to"]
    went = closing.send_all_on(branch, to, by=request.user, key=form.cleaned_data["key"])
    left = " What is below zero on file stays: count it." if closing.lying_at(branch) else ""
    messages.success(request, f"{went} part{'' if went == 1 else 's'} of the price list went to {to}.{left}")
    return redirect("branch", pk)
