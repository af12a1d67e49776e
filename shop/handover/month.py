"""A month's papers: making those that are missing, a few at a time, and handing all over as one file.

Making stops whenever it is told to and goes on where it was: a paper that is made is kept. At no time is more than
one paper held in memory.
"""

import zipfile
from dataclasses import dataclass

from django.db.models import CharField, Value
from django.db.models.functions import Cast, Concat

from shop.billing.journal import papers_of
from shop.handover import making
from shop.handover.models import Paper, PaperDamaged
from shop.lib.streamed import zip_of

AT_ONCE = 4  # papers for one answer of the page: about a second


@dataclass(frozen=True)
class Progress:
    made: int
    of: int

    @property
    def missing(self):
        return self.of - self.made


def progress_of(month):
    """How many of the month's papers are made. Two queries."""
    about = papers_of(month).order_by().values(about=Concat(Value("invoice:"), Cast("pk", CharField())))
    made = Paper.objects.about_one_of(about).values("about").distinct().count()
    return Progress(made, papers_of(month).count())


def _missing(keys):
    """Those of `keys` whose paper is not made, in their order."""
    about = {f"invoice:{key}": key for key in keys}
    made = set()
    names = list(about)
    for start in range(0, len(names), 500):
        made.update(Paper.objects.about_one_of(names[start : start + 500]).values_list("about", flat=True))
    return [key for name, key in about.items() if name not in made]


def make_missing(month, *, by=None, most=None, stopping=lambda: False, say=lambda done, of: None):
    """Make missing papers, at most `most`, until `stopping()`; `say(made, of)` after each. How many were made."""
    keys = list(papers_of(month).values_list("pk", flat=True))
    missing = _missing(keys)
    made = 0
    for key in missing[:most]:
        if stopping():
            break
        making.invoice_paper(papers_of(month).select_related("order").get(pk=key), by=by)
        made += 1
        say(len(keys) - len(missing) + made, len(keys))
    return made


def zipped(month):
    """The month's papers as one zip, in pieces. A damaged paper is named in a text instead of ending the file."""

    def fill(archive):
        for invoice in papers_of(month).iterator(chunk_size=100):
            paper = Paper.objects.about(making.about_invoice(invoice))
            if paper is None:
                continue
            try:
                archive.writestr(f"{invoice.number}.pdf", paper.read())
            except PaperDamaged as damage:
                archive.writestr(f"{invoice.number}-missing.txt", f"{damage}\n")
            yield

    return zip_of(fill, packed=zipfile.ZIP_STORED)  # PDFs are packed already
