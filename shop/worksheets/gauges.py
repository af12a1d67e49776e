"""The gauges of the bench and how finely each reads.

The resolution is the smallest step in which the gauge is read; the true value is taken to lie anywhere within one step.
The figures are common practice, no source.
"""

from dataclasses import dataclass
from functools import cached_property

from geometry.uncertainty import expanded_uncertainty, standard_uncertainty
from shop.worksheets.families.parts import CELSIUS, CENTS, DEG, MM, PERCENT


@dataclass(frozen=True)
class Gauge:
    key: str
    label: str
    unit: str
    resolution: float  # in the gauge's own unit
    note: str = ""

    @cached_property
    def standard(self):
        """Standard uncertainty of one reading."""
        return float(standard_uncertainty(self.resolution))

    @cached_property
    def expanded(self):
        """Expanded uncertainty of one reading, k = 2."""
        return float(expanded_uncertainty(self.standard))


GAUGES = {
    one.key: one
    for one in (
        Gauge("dial", "dial gauge", MM, 0.01, "Reads hundredths of a millimetre against a straightedge or the frets."),
        Gauge("calliper", "calliper", MM, 0.02, "Shows hundredths; by hand it repeats to about two."),
        Gauge("feeler", "feeler leaves", MM, 0.05, "The next leaf is five hundredths thicker."),
        Gauge("height_gauge", "string-height gauge", MM, 0.125, "Lines a quarter apart, read to half a line."),
        Gauge("fine_rule", "fine steel rule", MM, 0.25, "Half-millimetre lines, read to half a line."),
        Gauge("rule", "steel rule", MM, 0.5, "Half-millimetre lines."),
        Gauge("tuner", "tuner", CENTS, 0.2, "Shows tenths of a cent; by hand it repeats to about two."),
        Gauge("plain_tuner", "tuner, whole cents", CENTS, 1.0),
        Gauge("angle", "angle gauge", DEG, 0.5),
        Gauge("hygrometer", "hygrometer", PERCENT, 1.0),
        Gauge("thermometer", "thermometer", CELSIUS, 1.0),
    )
}


def gauge_for(key, field):
    """The gauge named, or the field's usual one; None for a field that needs none."""
    named = GAUGES.get(key)
    if named and named.unit == field.unit:
        return named
    return GAUGES[field.gauges[0]] if field.gauges else None


def finer_than(gauge, field, needed):
    """The coarsest gauge for `field` that reads finer than `gauge` and at least as fine as `needed`, or None."""
    most = min(needed, gauge.resolution * 0.999)
    fitting = [GAUGES[key] for key in field.gauges if GAUGES[key].resolution <= most]
    return max(fitting, key=lambda one: one.resolution, default=None)
