"""The papers of an order as PDFs, and keeping them: the bytes that were made are the bytes that stay."""

import contextlib
import hashlib

from django.core.files.base import ContentFile
from django.db import transaction
from django.utils import timezone
from django.utils.text import slugify

from shop.billing import letterhead
from shop.billing import papers as billing
from shop.billing.account import account_of
from shop.billing.treatments import REASONS
from shop.handover.marks import marks_of, outlines_of
from shop.handover.models import Paper, PaperKind
from shop.handover.sheet import sheet_of
from shop.lib.opening import week_of
from shop.lib.stationery import paper_pdf
from shop.orders import services as orders
from shop.worksheets.services.photos import BEFORE

MOST_PHOTOS = 4
MOST_MARK_PHOTOS = 8


def invoice_pdf(invoice, workshop):
    return billing.invoice_pdf(invoice, workshop)


def handover_pdf(order, workshop):
    """The handover sheet of `order` as it stands, in bytes."""
    photos, files = photos_of(order)
    context = letterhead.head_of(workshop) | {
        "order": order, "instrument": order.instrument, "made_on": timezone.localdate(), "photos": photos,
        "sheet": sheet_of(order, workshop),
    }  # fmt: skip
    return paper_pdf("handover", context, size=workshop.paper, files=files)


def receipt_pdf(orders, workshop):
    """What was taken in in one visit, for the customer to keep, in bytes. `orders` are those of the visit."""
    first, files = orders[0], _signature(orders[0])
    pieces = [_piece(order, workshop, files) for order in orders]
    context = letterhead.head_of(workshop) | {
        "order": first, "pieces": pieces, "currency": workshop.currency,
        "prices_include_tax": workshop.prices_include_tax, "signed": bool(first.signature),
        "terms": first.intake_terms, "hours": "; ".join(week_of(workshop.opening_hours).lines),
    }  # fmt: skip
    return paper_pdf("receipt", context, size=workshop.paper, files=files)


def _piece(order, workshop, files):
    """What the receipt says of one instrument; the pictures of its marks go into `files`."""
    account, marks = account_of(order, workshop), marks_of(order)
    photographed = []
    for mark in [one for one in marks if one.photo][:MOST_MARK_PHOTOS]:
        with contextlib.suppress(FileNotFoundError), mark.photo.thumb.open("rb") as file:
            files[f"mark-{mark.photo.pk}"] = file.read()
            photographed.append(mark)
    return {
        "order": order, "instrument": order.instrument, "marks": marks, "outlines": outlines_of(order, marks),
        "photographed": photographed, "account": account,
        "total": account.agreed.total + account.proposed.total,
    }  # fmt: skip


def _signature(order):
    """What was signed by finger at the counter, if anything."""
    if not order.signature:
        return {}
    with order.signature.open("rb") as file:
        return {"signature": file.read()}


def quote_pdf(order, workshop, valid_until=None):
    """What the proposed and agreed work would cost, in bytes."""
    account = account_of(order, workshop)
    context = letterhead.head_of(workshop) | {
        "order": order, "instrument": order.instrument, "made_on": timezone.localdate(), "account": account,
        "buyer": letterhead.addressed(letterhead.buyer_of(order.customer)),
        "currency": account.currency,
        "lines": account.proposed.lines, "tax_name": workshop.tax_name,
        "prices_include_tax": workshop.prices_include_tax and not account.treatment, "proposed": account.proposed,
        "exempt_reason": REASONS.get(account.treatment, ""),
        "valid_until": valid_until, "has_rates": len(account.proposed.rates) > 1,
    }  # fmt: skip
    return paper_pdf("quote", context, size=workshop.paper)


def photos_of(order):
    """(what the sheet shows of photographs, their files): two from before the work and the last two of after it."""
    photos = list(order.photos.all())
    before = [one for one in photos if was_before(one)]
    chosen = before[:2] + [one for one in photos if one not in before][-2:]
    shown, files = [], {}
    for photo in chosen[:MOST_PHOTOS]:
        key = f"photo-{photo.pk}"
        with photo.file.open("rb") as file:
            files[key] = file.read()
        shown.append({"key": key, "caption": photo.caption or ("at the bench" if photo.step else "as it came")})
    return shown, files


def was_before(photo):
    """Whether a photograph shows the instrument as it came: of the book-in, or said so at the bench."""
    return not photo.step or photo.caption.startswith(BEFORE.capitalize())


def file_name(workshop, *words):
    """A file's name as the customer sees it: `old-mill-guitars-invoice-r26-0042.pdf`."""
    return slugify(" ".join([workshop.name[:40], *words]))[:110] + ".pdf"


@transaction.atomic
def keep(order, kind, content, *, name, by, about=""):
    """Keep `content` as a paper of `order`. With `about` there is only ever one: the first stays and is returned."""
    orders.locked(order)  # two that render the same at once are told apart here
    if about and (known := Paper.objects.about(about)):
        return known
    paper = Paper(
        order=order, kind=kind, name=name, sha256=hashlib.sha256(content).hexdigest(), made_at=timezone.now(),
        made_by=by, about=about,
    )  # fmt: skip
    paper.file.save(f"{PaperKind(kind).value}-{order.pk}.pdf", ContentFile(content), save=False)
    paper.save(force_insert=True)
    return paper
