"""What one device at the bench prefers: its unit of length, and the gauge last used for each kind of reading.

It is kept in a signed cookie of that device, so that what the server shows and what it reads agree, and so that every
bench of a shop may have its own.
"""

from dataclasses import dataclass, field, replace

from django.conf import settings
from django.core import signing

from shop.staff.models import LengthUnit
from shop.worksheets.gauges import GAUGES

COOKIE, SALT = "bench", "shop.worksheets.device"
TWO_YEARS = 2 * 365 * 24 * 3600


@dataclass(frozen=True)
class Device:
    """`unit` is '' where the device reads as the workshop does; `gauges` maps a kind of reading to a gauge's key."""

    unit: str = ""
    gauges: dict = field(default_factory=dict)

    def with_gauge(self, key, gauge):
        """The same device after a reading of `key` with `gauge`."""
        if gauge not in GAUGES or self.gauges.get(kind_of_reading(key)) == gauge:
            return self
        return replace(self, gauges=self.gauges | {kind_of_reading(key): gauge})


def kind_of_reading(key):
    """Both sides of the bridge are read alike: 'stud_bass' and 'stud_treble' are one kind."""
    return key.removesuffix("_bass").removesuffix("_treble")


def device_of(request):
    """The device that asks; a cookie that was tampered with, or none, is one without preferences."""
    try:
        kept = signing.loads(request.COOKIES.get(COOKIE, ""), salt=SALT, max_age=TWO_YEARS)
        unit = kept["unit"] if kept["unit"] in LengthUnit.values else ""
        gauges = {str(kind): gauge for kind, gauge in kept["gauges"].items() if gauge in GAUGES}
    except (signing.BadSignature, KeyError, TypeError, AttributeError):
        return Device()
    return Device(unit, gauges)


def keep(response, device):
    """Let the device that gets `response` remember `device`."""
    response.set_cookie(
        COOKIE, signing.dumps({"unit": device.unit, "gauges": device.gauges}, salt=SALT), max_age=TWO_YEARS,
        httponly=True, samesite="Strict", secure=settings.SESSION_COOKIE_SECURE,
    )  # fmt: skip
    return response


def unit_of(request):
    """What this device reads and shows lengths in."""
    return device_of(request).unit or request.workshop.length_unit
