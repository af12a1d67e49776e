"""The record of what was done, and the rules of coming in: for the owner's eyes."""

from django.contrib import messages
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_safe

from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.staff import audit as record
from shop.staff.access import may
from shop.staff.entry_forms import AuditForm, RulesForm
from shop.staff.models import Workshop

HEADS = ("when (UTC)", "what", "who", "from", "said")


@require_safe
@may("edit staff")
def audit(request):
    form = AuditForm(request.GET)
    page = page_of(request, form.found())
    return render(request, "staff/audit.html", {"form": form, "page": page, "sorting": form.sorting})


@require_safe
@may("export")
def audit_csv(request):
    entries = AuditForm(request.GET).found(whole=True).iterator(chunk_size=500)
    rows = (
        (f"{one.at:%Y-%m-%d %H:%M:%S}", one.get_kind_display(), str(one.by or ""), one.address, one.text)
        for one in entries
    )
    return csv_download("record.csv", HEADS, rows)


@require_http_methods(["GET", "HEAD", "POST"])
@may("edit staff")
def rules(request):
    form = RulesForm(request.POST or None, instance=Workshop.here())
    if request.method == "POST" and form.is_valid():
        if changed := form.changes:
            form.save_changes()
            said = ", ".join(f"{name} → {value}" for name, value in changed.items())
            record.write(record.AuditKind.SETTINGS, f"The rules of signing in changed: {said}.")
        messages.success(request, "The rules are saved.")
        return redirect("staff")
    return render(request, "staff/rules.html", {"form": form}, status=422 if form.errors else 200)
