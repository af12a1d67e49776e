"""Photographs of an order, and of a draft that is not booked in yet."""

import uuid
from datetime import timedelta

from django.core.files.base import ContentFile
from django.db import IntegrityError, transaction
from django.utils import timezone

from shop.lib.images import ImageRefused, reencoded
from shop.orders.models import Photo
from shop.orders.services.common import NotAllowed, note

MOST_PHOTOS = 40
DRAFT_DAYS = 14


def keep_draft_photo(draft_key, file, *, by, caption="", upload_key=None):
    """Keep a photograph for an order that is being booked in. Raises ImageRefused, a sentence.

    The same `upload_key` is kept once, however often a page that lost its connection sends it.
    """
    sweep_drafts()
    return _kept_once(file, upload_key, by=by, caption=caption, draft_key=draft_key)[0]


def add_photo(order, file, *, by, caption="", step="", upload_key=None):
    """Keep a photograph of the order, once for each `upload_key`. Raises ImageRefused, a sentence."""
    with transaction.atomic():
        photo, is_new = _kept_once(file, upload_key, by=by, caption=caption, order=order, step=step)
        if is_new:
            note(order, by=by, what="photo_added", text=f"Photograph added: {photo}.", photo=photo.pk)
    return photo


def _kept_once(file, upload_key, **about):
    """(the photograph, whether it is new): what was sent under this key before is not kept again."""
    sent = Photo.objects.filter(upload_key=upload_key)
    known = sent.first() if upload_key else None
    if known:
        return known, False
    try:
        with transaction.atomic():
            return _keep(file, upload_key=upload_key, **about), True
    except IntegrityError:  # sent twice at the same moment: the other one was quicker
        return sent.get(), False


def _keep(file, *, by, caption, **of):
    whose = {name: of[name] for name in ("order", "draft_key") if name in of}
    if Photo.objects.filter(**whose).count() >= MOST_PHOTOS:
        raise ImageRefused(f"There are {MOST_PHOTOS} photographs already; remove one first.")
    picture = reencoded(file)
    photo = Photo(by=by, caption=caption[:200], width=picture.width, height=picture.height, **of)
    name = uuid.uuid4().hex  # the uploaded name is never used
    photo.file.save(f"{name}.jpg", ContentFile(picture.full), save=False)
    photo.thumb.save(f"{name}-small.jpg", ContentFile(picture.thumb), save=False)
    photo.save(force_insert=True)
    return photo


def attach_drafts(order, draft_key):
    """Give the draft's photographs to the order that came of it. Called while booking in. Returns how many."""
    return Photo.objects.filter(draft_key=draft_key, order=None).update(order=order, draft_key=None)


def remove_photo(photo, *, by):
    """Delete a photograph and its files. One of a closed order stays."""
    if photo.order and photo.order.closed_at:
        raise NotAllowed("The order is closed; its photographs stay as they are.")
    with transaction.atomic():
        if photo.order:
            note(photo.order, by=by, what="photo_removed", text=f"Photograph removed: {photo}.")
        _delete(photo)


def sweep_drafts(*, now=None):
    """Delete photographs of drafts that nobody has booked in for a fortnight. Returns how many."""
    before = (now or timezone.now()) - timedelta(days=DRAFT_DAYS)
    stale = list(Photo.objects.filter(order=None, at__lt=before)[:50])
    for photo in stale:
        _delete(photo)
    return len(stale)


def _delete(photo):
    """The row first; its files only once that is certain."""
    files = [photo.file, photo.thumb]
    photo.delete()
    transaction.on_commit(lambda: [file.storage.delete(file.name) for file in files if file])
