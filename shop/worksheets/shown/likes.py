"""How a player likes it, as it is shown and edited."""

from dataclasses import dataclass

from django.urls import reverse

from shop.instruments.kinds import Kind
from shop.worksheets import profiles, tastes
from shop.worksheets.foretold import foretell
from shop.worksheets.shown.foretold import ForetoldShown
from shop.worksheets.wording.said import Said


@dataclass(frozen=True)
class LikesPage:
    """The page on which ranges are written down; `base` are the targets that hold where nothing is."""

    whose: str
    says: str
    kind: str
    ranges: dict
    base: dict
    unit: str

    @classmethod
    def of_instrument(cls, instrument, *, unit):
        base = profiles.targets_of(profiles.usual_for(instrument.kind))
        base |= tastes.of_customer(instrument.customer, instrument.kind)
        own = tastes.of_instrument(instrument)
        return cls(str(instrument), "For this instrument alone.", instrument.kind, own, base, unit)

    @classmethod
    def of_customer(cls, customer, kind, *, unit):
        base = profiles.targets_of(profiles.usual_for(kind))
        says = f"For every {Kind(kind).label} of this customer; what an instrument's own page says goes first."
        return cls(str(customer), says, kind, tastes.of_customer(customer, kind), base, unit)

    def usual(self, key, unit):
        """The range that holds without this taste, in words."""
        low, high = self.base.get(key) or (None, None)
        return "" if low is None and high is None else Said(self.unit).range(low, high, unit)

    def foretold(self, ranges):
        """What these ranges would have judged, beside those that hold now."""
        found = foretell(self.kind, self.base | self.ranges, self.base | ranges)
        return ForetoldShown.of(found, Said(self.unit))


@dataclass(frozen=True)
class Part:
    title: str
    address: str
    rows: tuple
    empty: str


def panel_of_instrument(instrument, *, unit):
    """(words, parts) for the instrument's page: its own ranges, and the customer's where there are any."""
    kind, said = instrument.kind, Said(unit)
    own, owners = tastes.of_both(instrument)
    parts = [Part("On this instrument", reverse("instrument-likes", args=[instrument.pk]), rows_of(own, said),
                  "Worked to the shop's profile.")]  # fmt: skip
    if owners:
        address = reverse("customer-likes", args=[instrument.customer_id, kind])
        parts.append(Part(f"On every {Kind(kind).label}", address, rows_of(owners, said), ""))
    return instrument.taste or instrument.customer.taste, parts


def panel_of_customer(customer, *, unit):
    """(words, parts) for the customer's page: one part for each kind that they have, or have ranges for."""
    kept, said = tastes.all_of_customer(customer), Said(unit)
    kinds = {one.kind for one in customer.instruments.all()} | kept.keys()
    parts = [
        Part(kind.label.capitalize(), reverse("customer-likes", args=[customer.pk, kind.value]),
             rows_of(kept.get(kind.value, {}), said), "Worked to the shop's profile.")
        for kind in Kind if kind.value in kinds
    ]  # fmt: skip
    return customer.taste, parts


def rows_of(ranges, said):
    """(label, range in words) in the order of the owner's screen."""
    return tuple((label, said.range(*ranges[key], unit)) for key, label, unit in profiles.TARGETS if key in ranges)
