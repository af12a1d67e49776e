"""Marks as pages show them: numbered as on the drawing, each with the name of its place."""

from dataclasses import dataclass

from shop.orders.outlines import place_name


@dataclass(frozen=True)
class Mark:
    """A mark with its number on the drawing and the name of the place it is nearest to."""

    number: int
    mark: object
    place: str


def numbered(marks, hand):
    """[Mark] of ConditionMarks on an instrument for that hand."""
    places = [(one, place_name(one.x, one.y, side=one.side, hand=hand)) for one in marks]
    return [Mark(number, one, place) for number, (one, place) in enumerate(places, start=1)]


def last_marked(instrument, branch):
    """The newest order of the instrument in which marks were noted, as far as `branch` knows; None without any."""
    orders = instrument.orders.at(branch).filter(marks__isnull=False)
    return orders.order_by("-booked_at", "-pk").prefetch_related("marks").first()
