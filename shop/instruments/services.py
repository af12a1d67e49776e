"""What is done to an instrument's record. Each function is one transaction."""

from django.db import transaction
from django.db.models import ProtectedError

from shop.instruments.effective import effective_spec, effective_strings
from shop.instruments.models import Instrument, InstrumentString, SpecValue
from shop.staff import audit

__all__ = [
    "NotAllowed", "delete_instrument", "effective_spec", "effective_strings", "fit_strings", "record_spec_value",
    "record_spec_values",
]  # fmt: skip


class NotAllowed(Exception):
    """The message is a sentence for people."""


def record_spec_value(instrument, key, value, *, by, raw=""):
    """Write down a measured value, in the field's own unit; None says that it is not known any more.

    The newest row holds, older ones stay as its history. Returns the row, or None when nothing would change.
    """
    held = instrument.spec_values.filter(key=key).order_by("-pk").first()
    if (held.value if held else None) == value:
        return None
    return SpecValue.objects.create(instrument=instrument, key=key, value=value, raw=raw[:40], by=by)


@transaction.atomic
def record_spec_values(instrument, values, *, by):
    """Write down several: {key: (value, as it was typed)}. Returns the rows that are new."""
    Instrument.objects.select_for_update().get(pk=instrument.pk)
    rows = [record_spec_value(instrument, key, value, by=by, raw=raw) for key, (value, raw) in values.items()]
    return [row for row in rows if row]


@transaction.atomic
def fit_strings(instrument, strings):
    """Write down the strings that are on the instrument: [{number, midi, material, diameter_mm, core_mm}].

    They replace what was written down before; somebody has looked at them, so none is assumed.
    """
    Instrument.objects.select_for_update().get(pk=instrument.pk)
    instrument.strings.all().delete()
    return InstrumentString.objects.bulk_create(InstrumentString(instrument=instrument, **one) for one in strings)


def delete_instrument(instrument):
    """Delete an instrument that was written down by mistake. Raises NotAllowed once it has been booked in."""
    said = str(instrument)
    try:
        with transaction.atomic():
            instrument.delete()
            audit.write(audit.AuditKind.DELETION, f"The record of the instrument {said} deleted.")
    except ProtectedError as error:
        raise NotAllowed(f"{instrument} has orders on file, so its record stays.") from error
