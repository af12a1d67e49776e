"""What the pages of merging show: who may be the same, what each record carries, and what was merged before."""

from dataclasses import dataclass

from shop.figures.merging.kinds import CUSTOMERS, INSTRUMENTS
from shop.figures.merging.services import why_not_apart
from shop.lib.carry_over import relations_to, unfolded

MOST_FOUND = 12
# What people want to know of, in their words; the rest is carried over all the same.
COUNTED = {
    "orders.workorder": "order", "instruments.instrument": "instrument", "billing.invoice": "invoice",
    "handover.outgoingmail": "mail", "instruments.specvalue": "measurement",
}  # fmt: skip


def alike(kind, one):
    """[(record, why)] of those who may be `one` written down twice."""
    found = kind.model.objects.perhaps_the_same(one)
    return found if kind is CUSTOMERS else [(other, "the same serial number and maker") for other in found]


def carried_by(row):
    """What hangs on a record, as words such as '3 orders'; a query for each kind."""
    said = []
    for key in relations_to(type(row)):
        word = COUNTED.get(key.model._meta.label_lower)
        count = key.model._base_manager.filter(**{key.name: row}).count() if word else 0
        if count:
            said.append(f"{count} {word}{'' if count == 1 else 's'}")
    return said


def others(kind, one, text):
    """Records that `text` may mean, `one` left out."""
    found = kind.model.objects.matching(text).exclude(pk=one.pk)
    return list(found.filter(erased_at=None)[:MOST_FOUND] if kind is CUSTOMERS else
                found.select_related("customer")[:MOST_FOUND])  # fmt: skip


@dataclass(frozen=True)
class Merged:
    """One merge as the page of the record that stayed tells it. `said` are (label, text) of the one that went."""

    record: object
    name: str
    said: list
    orders: list
    why_not_apart: str


def merged_into(kind, kept):
    """Every merge into `kept` that holds, the newest first."""
    if not getattr(kept, "has_merges", True):
        return []
    records = kept.merges.filter(undone_at=None).select_related("by")
    return [_merged(kind, one, kept) for one in records]


def _merged(kind, record, kept):
    refusal = why_not_apart(record, kept)
    if not record.details:
        return Merged(record, f"no. {record.gone}", [], [], refusal)
    gone = unfolded(record.details).object
    fields = [one for one in kind.chosen_fields() if not one.is_relation]
    fields += [kind.model._meta.get_field(name) for name in (*kind.strict, *kind.joined)]
    said = [(one.verbose_name, _words(one, gone)) for one in fields if getattr(gone, one.name) not in ("", None)]
    orders = record.moved.get(f"orders.workorder.{kind.owner}", [])
    return Merged(record, str(gone), said, orders, refusal)


def _words(field, row):
    value = getattr(row, f"get_{field.name}_display")() if field.choices else getattr(row, field.name)
    return ("yes" if value else "no") if isinstance(value, bool) else value


__all__ = ["CUSTOMERS", "INSTRUMENTS", "alike", "carried_by", "merged_into", "others"]
