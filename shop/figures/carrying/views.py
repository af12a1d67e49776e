"""Data in and out."""

from dataclasses import asdict

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods, require_POST, require_safe
from django_htmx.http import HttpResponseClientRefresh

from shop.figures.carrying import cards, erasing, exporting, importing, running
from shop.figures.carrying.forms import EraseForm, UploadForm
from shop.figures.carrying.kinds import KINDS
from shop.figures.carrying.reading import FileRefused
from shop.lib.dates import today
from shop.lib.sending import Download
from shop.lib.sheets import csv_download
from shop.lib.streamed import zip_download
from shop.people import access
from shop.people.models import Customer
from shop.staff import exports
from shop.staff.access import may
from shop.staff.branching import here

GET_POST = require_http_methods(["GET", "HEAD", "POST"])
WAITS = "import"  # what the session remembers between a preview and its answer: {kind, name of the kept file}
RUNS = "import-run"  # likewise, of what is being written
A_CARD = "text/vcard; charset=utf-8"


@require_safe
@may("export", gives_out=False)
def data(request):
    return render(request, "figures/data.html", {"kinds": KINDS.values()})


@require_safe
@may("export")
def everything(request):
    return zip_download(f"workshop-{today()}.zip", exporting.everything())


@require_safe
@may("export")
def all_cards(request):
    return Download(f"customers-{today()}.vcf", cards.cards(Customer.objects.order_by("pk")), A_CARD)


@require_safe
@may("see customers")
def card(request, pk):
    answer = HttpResponse(cards.card_of(access.customer(pk)), content_type=A_CARD)
    answer["Content-Disposition"] = f'attachment; filename="customer-{pk}.vcf"'
    return answer


def _kind(key):
    if key not in KINDS:
        raise Http404
    return KINDS[key]


@require_safe
@may("export", gives_out=False)
def empty_table(request, kind):
    return csv_download(f"{kind}.csv", _kind(kind).heads, [])


@GET_POST
@may("export", gives_out=False)
def read_in(request, kind):
    """Upload a table and see what would be written."""
    shows = {"kind": _kind(kind), "form": UploadForm(request.POST or None, request.FILES or None, kind=kind)}
    if request.method == "POST" and shows["form"].is_valid():
        content = shows["form"].cleaned_data["file"].read()
        try:
            checked = importing.check(kind, content, workshop=request.workshop)
        except FileRefused as refusal:
            shows["form"].add_error("file", str(refusal))
        else:
            _let_wait(request, kind, content if checked.may_be_written else None)
            return render(request, "figures/import_preview.html", shows | {"checked": checked})
    return render(request, "figures/import.html", shows, status=422 if shows["form"].is_bound else 200)


def _let_wait(request, kind, content):
    importing.forget(request.session.pop(WAITS, {}).get("name"))
    if content is not None:
        request.session[WAITS] = {"kind": kind, "name": importing.keep(content)}


@require_POST
@may("export", gives_out=False)
def write(request, kind):
    """Write what was previewed. It is checked again: somebody may have written meanwhile."""
    waits = request.session.pop(WAITS, {})
    content = importing.kept(waits.get("name")) if waits.get("kind") == _kind(kind).key else None
    if content is None:
        messages.error(request, "There is no file that waits. Choose it again.")
        return redirect("import", kind)
    if len(content.splitlines()) > running.LONG:
        return _begin(request, kind, waits)
    checked = importing.check(kind, content, workshop=request.workshop)
    importing.forget(waits["name"])
    if not checked.may_be_written:
        return render(request, "figures/import_preview.html", {"kind": KINDS[kind], "checked": checked}, status=422)
    count = importing.write(checked, by=request.user, branch=here(request))
    messages.success(request, f"{count} {KINDS[kind].title.lower()} read in.")
    return redirect("data")


def _begin(request, kind, waits):
    """A long table is written beside the page that tells how far it is."""
    running.begin(kind, waits["name"], by=request.user, branch=here(request))
    request.session[RUNS] = waits
    return redirect("import-run", kind)


def _run_of(request, kind):
    """(name, Progress) of this person's run; no name once it has ended and that was shown, no Progress without one."""
    runs = request.session.get(RUNS, {})
    if runs.get("kind") != _kind(kind).key:
        return None, None
    if "ended" in runs:
        return None, running.Progress(**runs["ended"])
    return runs["name"], running.progress_of(runs["name"])


@require_safe
@may("export", gives_out=False)
def run(request, kind):
    """How far reading in is; once it has ended, what came of it."""
    name, progress = _run_of(request, kind)
    if progress is None:
        messages.error(request, "Nothing is being read in.")
        return redirect("import", kind)
    if not progress.is_running and request.htmx:
        return HttpResponseClientRefresh()  # only a whole page takes note that it has ended, and keeps what came of it
    if name and not progress.is_running:
        running.forget(name)
        request.session[RUNS] = {"kind": kind, "ended": asdict(progress)}
    return render(request, "figures/import_run.html", {"kind": KINDS[kind], "progress": progress})


@require_POST
@may("export", gives_out=False)
def run_stop(request, kind):
    name, _ = _run_of(request, kind)
    if name:
        running.stop(name)
    return redirect("import-run", kind)


@require_safe
@may("edit staff")
def person(request, pk):
    return show_person(request, access.customer(pk))


def show_person(request, customer, form=None):
    holding = erasing.holding_of(customer)
    shows = {"customer": customer, "holding": holding, "form": form or EraseForm(customer=customer)}
    return render(request, "figures/person.html", shows, status=422 if form else 200)


@require_safe
@may("edit staff")
def person_data(request, pk):
    exports.note(request)
    return zip_download(f"customer-{pk}-{today()}.zip", exporting.of_person(access.customer(pk)))


@require_POST
@may("edit staff")
def erase(request, pk):
    customer = access.customer(pk)
    form = EraseForm(request.POST, customer=customer)
    if not form.is_valid():
        return show_person(request, customer, form)
    try:
        left = erasing.erase(customer, by=request.user)
    except erasing.NotAllowed as refusal:
        form.add_error(None, str(refusal))
        return show_person(request, customer, form)
    messages.success(request, "The person is erased." + (" What must stay stays without them." if left else ""))
    return redirect("customer", left.pk) if left else redirect("customers")
