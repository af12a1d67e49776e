"""What is done to an instrument's record. Each function is one transaction."""

from django.db import transaction

from shop.instruments.effective import effective_spec, effective_strings
from shop.instruments.models import Instrument, InstrumentString, SpecValue

__all__ = [
    "add_instrument",
    "change_instrument",
    "effective_spec",
    "effective_strings",
    "record_spec_value",
    "record_specification",
    "write_strings",
]


def record_spec_value(instrument, key, value, *, by, raw=""):
    """Write down a measured value, in the field's own unit; None says that it is not known any more.

    The newest row holds, older ones stay as its history. Returns the row, or None when nothing would change.
    """
    held = instrument.spec_values.filter(key=key).order_by("-pk").first()
    if (held.value if held else None) == value:
        return None
    return SpecValue.objects.create(instrument=instrument, key=key, value=value, raw=raw[:40], by=by)


@transaction.atomic
def add_instrument(customer, **fields):
    """A new instrument of `customer`."""
    return Instrument.objects.create(customer=customer, **fields)


@transaction.atomic
def change_instrument(instrument, *, changed):
    """Write only the fields that were changed, so that two people's edits of different fields both stand."""
    if changed:
        instrument.save(update_fields=changed)
    return instrument


@transaction.atomic
def record_specification(instrument, values, *, by):
    """Write down many measured values at once: {key: (value or None, as typed)}. Returns how many changed."""
    rows = [record_spec_value(instrument, key, value, by=by, raw=raw) for key, (value, raw) in values.items()]
    return sum(row is not None for row in rows)


@transaction.atomic
def write_strings(instrument, strings):
    """The strings as fitted, in place of those on record. `strings`: dicts with InstrumentString's fields."""
    instrument.strings.all().delete()
    return InstrumentString.objects.bulk_create(
        InstrumentString(instrument=instrument, **{**one, "assumed": False}) for one in strings
    )
