"""Two records become one, and are taken apart again. Each is one transaction that leaves an event at every order."""

from django.db import transaction
from django.utils import timezone

from shop.figures.merging.kinds import INSTRUMENTS
from shop.instruments.hooked import remember_owner
from shop.lib.carry_over import Carried, carry_over, fold_away, hang_back, unfolded, written
from shop.orders.models import Event, WorkOrder
from shop.staff import audit
from shop.worksheets import tastes


class NotAllowed(Exception):
    """The message is a sentence for people."""


CHANGED = "Somebody changed one of the two meanwhile. Look at both once more."


@transaction.atomic
def merge(kind, kept, gone, *, chosen, texts, seen, by):
    """Carry everything of `gone` over to `kept`, whose details become what was chosen. Returns the record of it.

    chosen: names of fields that stay as `gone` has them. texts: {name: the joined text}. seen: what `kind.seen` said
    when the two were looked at. Raises NotAllowed when they were changed, merged or erased since.
    """
    kept, gone = _held(kind, kept, gone)
    _need_mergeable(kind, kept, gone, seen)
    record = kind.record(kept=kept, gone=gone.pk, details=written(gone), at=timezone.now(), by=by)
    text = f"{_named(kept)} and {_named(gone)} are one record from now on: no. {kept.pk}."
    _tell(kind, (kept, gone), by, "merged", text)
    done = Carried()
    if kind is INSTRUMENTS:
        _strings(kept, gone, "strings" in chosen, done)
    ranges = tastes.join(gone, kept)
    record.before, record.after = _details(kind, kept, gone, chosen, texts)
    record.before["ranges"], record.after["ranges"] = ranges
    carried = carry_over(gone, kept)
    record.moved, record.folded = carried.moved, done.folded + carried.folded
    _whose(kind, kept)
    gone.delete()
    record.save(force_insert=True)
    _write(f"The record of {kind.key} no. {record.gone} merged into no. {kept.pk}.", by)
    return record


def _held(kind, *two):
    """Both, locked in the order of their keys, as they stand now."""
    keys = {one.pk for one in two}
    rows = {one.pk: one for one in kind.model.objects.select_for_update().filter(pk__in=keys).order_by("pk")}
    if len(keys) != 2 or len(rows) != 2:
        raise NotAllowed("One of the two is no longer there: somebody merged or deleted it meanwhile.")
    return [rows[one.pk] for one in two]


def why_not(kept, gone):
    """Why the two are never merged, a sentence; '' when they may be."""
    if kept.pk == gone.pk:
        return "This is one and the same record."
    if any(getattr(one, "erased_at", None) for one in (kept, gone)):
        return "Who was erased stays apart: what was taken out on request does not come back by merging."
    return ""


def _need_mergeable(kind, kept, gone, seen):
    if refusal := why_not(kept, gone) or ("" if kind.seen(kept, gone) == seen else CHANGED):
        raise NotAllowed(refusal)


def _details(kind, kept, gone, chosen, texts):
    """Write what was chosen into `kept`. Returns what changed: ({column: before}, {column: after}), as plain data."""
    before = written(kept)["fields"]
    for one in kind.chosen_fields():
        if one.name in chosen or getattr(kept, one.attname) in (None, ""):
            setattr(kept, one.attname, getattr(gone, one.attname))
    for name in kind.strict:
        setattr(kept, name, getattr(kept, name) and getattr(gone, name))
    for name, text in texts.items():
        setattr(kept, name, text)
    kept.created_at = min(kept.created_at, gone.created_at)
    kept.save()
    after = written(kept)["fields"]
    changed = [name for name in after if before[name] != after[name]]
    return {name: before[name] for name in changed}, {name: after[name] for name in changed}


def _strings(kept, gone, theirs, done):
    """One set stays whole; two are never mixed."""
    if theirs or not kept.strings.exists():
        fold_away(kept.strings.all(), done)
    else:
        fold_away(gone.strings.all(), done)


def _whose(kind, row):
    """Instruments that changed hands are found by whose they are now."""
    if kind is not INSTRUMENTS:
        remember_owner(kind.model.objects.get(pk=row.pk))  # as it stands in the database now


def _write(text, by):
    """Into the record, without names: whoever is erased must not live on there."""
    audit.write(audit.AuditKind.DELETION, text, by=by)


def _named(row):
    return f"{row} (no. {row.pk})"


def _tell(kind, rows, by, what, text):
    """The same sentence in the history of every order of these records."""
    now = timezone.now()
    orders = WorkOrder.objects.filter(**{f"{kind.owner}__in": rows})
    Event.objects.bulk_create(
        (Event(order=order, at=now, by=by, what=what, text=text[:1000]) for order in orders), batch_size=500
    )


@transaction.atomic
def take_apart(kind, record, *, by):
    """Undo a merge: what was moved and is still there goes back; what came since stays. Returns the record restored.

    Raises NotAllowed when it was taken apart already, or when the person was erased since.
    """
    kept = kind.model.objects.select_for_update().get(pk=record.kept_id)
    held = kind.record.objects.select_for_update().get(pk=record.pk)
    if refusal := why_not_apart(held, kept):
        raise NotAllowed(refusal)
    unfolded(held.details).save()
    gone = kind.model.objects.get(pk=held.gone)
    hang_back(held.moved, kept=kept, gone=gone)
    _unfold(held, kept)
    _details_back(kept, held)
    for one in (kept, gone):
        _whose(kind, one)
    tastes.part(held.before.get("ranges", {}), held.after.get("ranges", {}))
    held.undone_at, held.undone_by = timezone.now(), by
    held.save(update_fields=["undone_at", "undone_by"])
    _tell(kind, (kept, gone), by, "unmerged", f"{_named(kept)} and {_named(gone)} are two records again.")
    _write(f"The record of {kind.key} no. {gone.pk} taken out of no. {kept.pk} again.", by)
    return gone


def why_not_apart(record, kept):
    """Why a merge cannot be undone, a sentence; '' when it can."""
    if record.undone_at:
        return "These two are apart already."
    if not record.details or getattr(kept, "erased_at", None):
        return "What the other record said was erased on request, so nothing can be brought back."
    return ""


def _unfold(record, kept):
    """Bring back what was taken out; strings only where none were written down since."""
    for data in record.folded:
        row = unfolded(data)
        is_string = data["model"] == "instruments.instrumentstring"
        if is_string and row.object.instrument_id == kept.pk and kept.strings.filter(number=row.object.number).exists():
            continue
        row.save()


def _details_back(kept, record):
    """A detail becomes what it was, unless somebody changed it since."""
    now, earlier = written(kept)["fields"], {}
    for name, was in record.before.items():
        if name != "ranges" and now.get(name) == record.after.get(name):
            earlier[name] = was
    if earlier:
        unfolded({"model": kept._meta.label_lower, "pk": kept.pk, "fields": now | earlier}).save()
