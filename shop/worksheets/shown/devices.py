"""The gauges that a device remembers, in words."""

from shop.worksheets.device import kind_of_reading
from shop.worksheets.families import FAMILIES
from shop.worksheets.gauges import GAUGES


def gauges_of(device):
    """[(the kind of reading, the gauge)] in words."""
    labels = {}
    for family in FAMILIES.values():
        for key, one in family.fields_by_key.items():
            labels.setdefault(kind_of_reading(key), one.label.partition(",")[0])
    return [(labels.get(kind, kind), GAUGES[gauge].label) for kind, gauge in sorted(device.gauges.items())]
