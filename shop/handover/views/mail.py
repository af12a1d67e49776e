"""The Mail page: what goes out, what went, what failed and why."""

from csp.constants import SELF, UNSAFE_INLINE
from csp.decorators import csp_replace, csp_update
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.clickjacking import xframe_options_sameorigin
from django.views.decorators.http import require_POST, require_safe

from shop.handover import access, exporting, queue
from shop.handover.forms import MailListForm, SilenceForm
from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.orders.services import NotAllowed
from shop.staff.access import may


@require_safe
@may("see mail")
def mails(request):
    form = MailListForm(request.GET, person=request.user)
    page = page_of(request, form.found())
    shown = {"form": form, "page": page, "sorting": form.sorting, "counts": queue.counts(request.user)}
    return render(request, "handover/mail_list.html", shown)


@require_safe
@may("export")
def export(request):
    """The same list, every page of it, for a spreadsheet; without what the mails say."""
    found = MailListForm(request.GET, person=request.user).found()
    return csv_download(f"mail-{today()}.csv", exporting.HEADS, exporting.rows(found))


@require_safe
@may("see mail")
@csp_update({"frame-src": [SELF]})
def mail(request, pk):
    return render(request, "handover/mail_detail.html", {"mail": access.mail(request.user, pk)})


@require_safe
@may("see mail")
@xframe_options_sameorigin
@csp_replace({"default-src": ["'none'"], "style-src": [UNSAFE_INLINE], "frame-ancestors": [SELF], "sandbox": [""]})
def mail_html(request, pk):
    """The mail's HTML part as a mail program would show it: no script, no image from anywhere, no form."""
    return HttpResponse(access.mail(request.user, pk).html)


@require_POST
@may("hand over")
def again(request, pk):
    return _done(request, pk, queue.try_again, "The mail is in the queue again.")


@require_POST
@may("hand over")
def withdraw(request, pk):
    return _done(request, pk, queue.withdraw, "The mail is withdrawn; it will not be sent.")


def _done(request, pk, service, said):
    try:
        service(access.mail(request.user, pk), by=request.user)
    except NotAllowed as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, said)
    return redirect("mail-detail", pk)


@require_safe
@may("see mail")
def silenced(request):
    return _silenced(request, SilenceForm())


def _silenced(request, form, status=200):
    found, sorting = exporting.silenced(request.GET)
    shown = {"form": form, "page": page_of(request, found), "sorting": sorting}
    return render(request, "handover/silenced.html", shown, status=status)


@require_safe
@may("export")
def silenced_csv(request):
    rows = exporting.silenced_rows(exporting.silenced(request.GET)[0])
    return csv_download(f"silenced-{today()}.csv", exporting.SILENCED_HEADS, rows)


@require_POST
@may("edit customers")
def silence(request):
    form = SilenceForm(request.POST)
    if not form.is_valid():
        return _silenced(request, form, 422)
    queue.silence(by=request.user, **form.cleaned_data)
    messages.success(request, f"Nothing is sent to {form.cleaned_data['address']} any more.")
    return redirect("mail-silenced")


@require_POST
@may("edit customers")
def speak_again(request, pk):
    one = access.silenced_address(pk)
    queue.speak_again(one)
    messages.success(request, f"Mail may go to {one.address} again.")
    return redirect("mail-silenced")
