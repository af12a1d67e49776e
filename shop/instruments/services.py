"""What is done to an instrument's record. Each function is one transaction."""

from shop.instruments.effective import effective_spec, effective_strings
from shop.instruments.models import SpecValue

__all__ = ["effective_spec", "effective_strings", "record_spec_value"]


def record_spec_value(instrument, key, value, *, by, raw=""):
    """Write down a measured value, in the field's own unit; None says that it is not known any more.

    The newest row holds, older ones stay as its history. Returns the row, or None when nothing would change.
    """
    held = instrument.spec_values.filter(key=key).order_by("-pk").first()
    if (held.value if held else None) == value:
        return None
    return SpecValue.objects.create(instrument=instrument, key=key, value=value, raw=raw[:40], by=by)
