"""Merging two records of one person or one instrument, and taking them apart again."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.figures.merging import access, services, shown
from shop.figures.merging.forms import MergeForm
from shop.figures.merging.kinds import CUSTOMERS, INSTRUMENTS
from shop.lib.moved import Moved
from shop.staff.access import may

GET_POST = require_http_methods(["GET", "HEAD", "POST"])


@require_safe
@may("edit customers")
def customer_find(request, pk):
    return _find(request, CUSTOMERS, pk)


@require_safe
@may("edit instruments")
def instrument_find(request, pk):
    return _find(request, INSTRUMENTS, pk)


@GET_POST
@may("edit customers")
def customer_merge(request, pk, other):
    return _merge(request, CUSTOMERS, pk, other)


@GET_POST
@may("edit instruments")
def instrument_merge(request, pk, other):
    return _merge(request, INSTRUMENTS, pk, other)


@require_POST
@may("edit customers")
def customer_apart(request, pk):
    return _apart(request, CUSTOMERS, pk)


@require_POST
@may("edit instruments")
def instrument_apart(request, pk):
    return _apart(request, INSTRUMENTS, pk)


def _find(request, kind, pk):
    """Look for the other record."""
    one, text = access.record_of(kind, pk), request.GET.get("q", "").strip()[:100]
    shows = {
        "kind": kind, "one": one, "text": text, "found": shown.others(kind, one, text),
        "alike": shown.alike(kind, one),
    }  # fmt: skip
    return render(request, "figures/merge_find.html", shows)


def _merge(request, kind, pk, other):
    try:
        kept, gone = access.record_of(kind, pk), access.record_of(kind, other)
    except Moved as moved:
        messages.info(request, f"One of the two was merged already. This is the record that stayed: {moved.kept}.")
        return redirect(kind.key, moved.kept.pk)
    form = MergeForm(request.POST or None, kind=kind, kept=kept, gone=gone)
    refusal = services.why_not(kept, gone)
    if request.method == "POST" and not refusal and form.is_valid():
        try:
            services.merge(kind, kept, gone, by=request.user, **form.choice())
        except services.NotAllowed as problem:
            refusal = str(problem)
        else:
            messages.success(request, f"One record now: {kept}. The other one’s address leads here.")
            return redirect(kind.key, kept.pk)
    return _side_by_side(request, kind, kept, gone, form, refusal)


def _side_by_side(request, kind, kept, gone, form, refusal):
    """After a clash the form holds what was chosen, and vouches for the two records as they stand now."""
    if form.is_bound:
        form.data = form.data.copy()
        form.data["seen"] = kind.seen(access.record_of(kind, kept.pk), access.record_of(kind, gone.pk))
    shows = {
        "kind": kind, "kept": kept, "gone": gone, "form": form, "refusal": refusal,
        "carries": [(one, shown.carried_by(one)) for one in (kept, gone)],
    }  # fmt: skip
    return render(request, "figures/merge.html", shows, status=422 if form.is_bound else 200)


def _apart(request, kind, pk):
    record = access.merge_record(kind, pk)
    try:
        gone = services.take_apart(kind, record, by=request.user)
    except services.NotAllowed as refusal:
        messages.error(request, str(refusal))
        return redirect(kind.key, record.kept_id)
    messages.success(request, f"Two records again: this is {gone}. What was written since stayed with the other.")
    return redirect(kind.key, gone.pk)
