"""The buttons inside the counter's form: it comes back with one more of something, or without it, and as it was typed.

With script the page does the same by itself, and nothing is sent.
"""

from shop.lib.keys import key_of
from shop.orders.forms.lines import MOST_LINES
from shop.orders.forms.pieces import MOST_TOGETHER
from shop.orders.services.details import MOST_MARKS

ANOTHER, OFF, MORE, DROP_PHOTO = "another", "off", "more", "drop-photo"
ROWS = {"lines": MOST_LINES, "marks": MOST_MARKS}


def asks(data):
    """Whether what was sent asks for another shape of the form, not for booking in."""
    return any(name in data for name in (ANOTHER, OFF, MORE, DROP_PHOTO))


def next_place(places):
    """The place in the visit that one more instrument takes; None when it is full."""
    behind = max(places) + 1
    return behind if behind <= MOST_TOGETHER else next((one for one in range(2, behind) if one not in places), None)


def to_be_signed_anew(data):
    """Take tick and signature off the terms in `data` where the instruments change for which they hold."""
    if ANOTHER in data or OFF in data:
        for name in ("terms-read", "terms-signature"):
            data.pop(name, None)


def more_rows(data):
    """Write one more row into `data` where the form asks for it, such as `2-marks`."""
    name = data.get(MORE, "")
    total, kind = f"{name}-TOTAL_FORMS", name.rpartition("-")[2]
    if kind in ROWS and (now := key_of(data.get(total))) is not None:
        data[total] = str(min(now + 1, ROWS[kind]))


def without(places, data):
    """`places` but for the one to be taken off; the first stays."""
    gone = key_of(data.get(OFF))
    return {place: one for place, one in places.items() if place == 1 or place != gone}


def unjudged(form):
    """Take off what was said about a form that is still being filled in: nobody asked for it yet."""
    for part in form.parts:
        for one in getattr(part, "forms", [part]):
            one.errors.clear()
        if hasattr(part, "non_form_errors"):
            part.non_form_errors().clear()
