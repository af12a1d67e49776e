"""The words of mails: what they are, how they look, a test of them."""

from csp.constants import SELF, UNSAFE_INLINE
from csp.decorators import csp_replace, csp_update
from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.clickjacking import xframe_options_sameorigin
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from shop.handover import rewording, sample, wordings
from shop.handover.forms import WordsForm
from shop.handover.writing import Words, words_of, written
from shop.lib.dates import today
from shop.lib.paging import page_of
from shop.lib.sheets import csv_download
from shop.lib.sorting import Column, Sorting
from shop.orders.services import NotAllowed
from shop.staff.access import may

COLUMNS = (
    Column("mail", "Mail", ("title",)), Column("when", "When it goes", ("place",)),
    Column("words", "Words", ("standing", "place")),
)  # fmt: skip
HEADS = ("mail", "when it goes", "words", "subject", "text")
GET_POST = require_http_methods(["GET", "HEAD", "POST"])


def _known(name):
    if name not in wordings.MAILS:
        raise Http404("There is no such mail.")
    return wordings.MAILS[name]


@require_safe
@may("edit workshop")
def all_words(request):
    sorting = Sorting(COLUMNS, request.GET.get("sort"), usual="when")
    page = page_of(request, sorting.rows(rewording.all_words()))
    return render(request, "handover/words_list.html", {"page": page, "sorting": sorting})


@require_safe
@may("export")
def export(request):
    """Every mail with the words it is written in, for a spreadsheet."""
    found = Sorting(COLUMNS, request.GET.get("sort"), usual="when").rows(rewording.all_words())
    rows = ((one.title, one.when, one.standing, one.words.subject, one.words.body) for one in found)
    return csv_download(f"words-{today()}.csv", HEADS, rows)


@GET_POST
@may("edit workshop")
@csp_update({"frame-src": [SELF]})
def words(request, which):
    mail, kept = _known(which), words_of(which)
    form = WordsForm(request.POST or None, name=which, words=kept)
    if request.method == "POST" and form.is_valid():
        rewording.reword(which, by=request.user, **form.cleaned_data)
        messages.success(request, f"{mail.title}: mails are written in these words from now on.")
        return redirect("mail-words-of", which)
    shown = {"name": which, "mail": mail, "kept": kept, "form": form, "names": wordings.meanings(which)}
    return render(request, "handover/words_form.html", shown, status=422 if form.errors else 200)


@GET_POST
@may("edit workshop")
@xframe_options_sameorigin
@csp_replace({"default-src": ["'none'"], "style-src": [UNSAFE_INLINE], "frame-ancestors": [SELF], "sandbox": [""]})
def preview(request, which):
    """How the mail looks, about an order that never was: as kept, or as it stands in the form that is sent here."""
    _known(which)
    words = words_of(which)
    form = WordsForm(request.POST or None, name=which, words=words)
    if request.method == "POST":
        if not form.is_valid():
            return render(request, "handover/words_wrong.html", {"form": form}, status=422)
        words = Words(form.cleaned_data["subject"], form.cleaned_data["body"])
    subject, text, html = written(which, sample.given(request.workshop), words)
    shown = {"subject": subject, "text": text}
    return HttpResponse(html.replace("</body>", _plain(request, shown) + "</body>"))


def _plain(request, shown):
    return render(request, "emails/plain_part.html", shown).content.decode()


@require_POST
@may("edit workshop")
def usual(request, which):
    mail = _known(which)
    rewording.use_usual(which)
    messages.success(request, f"{mail.title}: the usual words are back.")
    return redirect("mail-words-of", which)


@require_POST
@may("edit workshop")
def test(request, which):
    _known(which)
    try:
        sent = rewording.send_test(which, workshop=request.workshop, by=request.user)
    except NotAllowed as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(request, f"A test goes to {sent.to}.")
    return redirect("mail-words-of", which)
