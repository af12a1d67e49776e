"""What can be merged, and what two records say beside each other."""

import hashlib
import json
from dataclasses import dataclass

from shop.instruments.models import Instrument, InstrumentMerge
from shop.lib.carry_over import written
from shop.people.models import Customer, CustomerMerge


@dataclass(frozen=True)
class Mergeable:
    """A kind of record. `joined` are the fields whose texts are put together, `strict` those where a no wins."""

    key: str
    model: type
    record: type
    owner: str  # the field of an order that names it
    title: str
    joined: tuple = ("taste", "notes")
    strict: tuple = ()

    def chosen_fields(self):
        """The fields of which one of the two stays: whatever a person can type, now or in a later version."""
        apart = (*self.joined, *self.strict)
        return [one for one in self.model._meta.concrete_fields
                if one.editable and not one.primary_key and one.name not in apart]  # fmt: skip

    def seen(self, kept, gone):
        """A short text that changes with anything the two records say."""
        said = json.dumps([written(kept), written(gone)], sort_keys=True)
        return hashlib.sha256(said.encode()).hexdigest()[:24]


CUSTOMERS = Mergeable("customer", Customer, CustomerMerge, "customer", "person", strict=("mail_agreed",))
INSTRUMENTS = Mergeable("instrument", Instrument, InstrumentMerge, "instrument", "instrument")


@dataclass(frozen=True)
class Row:
    """One detail as both say it. `is_asked`: both say something, and not the same."""

    name: str
    label: str
    kept: str
    gone: str

    @property
    def is_asked(self):
        return self.kept != self.gone and bool(self.kept and self.gone)

    @property
    def stays(self):
        """What stays without asking."""
        return self.kept or self.gone


def rows_of(kind, kept, gone):
    """The details that one of the two has to give; those that neither says are left out."""
    found = [Row(one.name, one.verbose_name, _said(one, kept), _said(one, gone)) for one in kind.chosen_fields()]
    if kind is INSTRUMENTS:
        found.append(Row("strings", "strings fitted", _strings(kept), _strings(gone)))
    return [row for row in found if row.kept or row.gone]


def _said(field, row):
    if field.choices:
        return str(getattr(row, f"get_{field.name}_display")())
    value = getattr(row, field.name)
    return "" if value is None else str(value)


def _strings(instrument):
    fitted = list(instrument.strings.all())
    return ", ".join(f"{one.diameter_mm:g} mm" for one in fitted)


def texts_together(kept, gone):
    """Two texts as one, the first one's first; what both say is said once."""
    kept, gone = kept.strip(), gone.strip()
    return kept if gone in kept else gone if kept in gone else f"{kept}\n\n{gone}"
