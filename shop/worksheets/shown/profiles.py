"""The owner's list of target profiles."""

from dataclasses import dataclass

from shop.worksheets import profiles, queries
from shop.worksheets.foretold import foretell
from shop.worksheets.forms import typed_ranges
from shop.worksheets.shown.foretold import ForetoldShown
from shop.worksheets.wording.said import Said


@dataclass(frozen=True)
class ProfileShown:
    profile: object
    rows: tuple  # (label, range in words)


def kinds_shown(*, unit):
    """[(kind in words, [ProfileShown …])]."""
    said = Said(unit)
    return [(kind.label, [_shown(one, said) for one in kept]) for kind, kept in queries.profiles_by_kind()]


def foretold_of(profile, forms, *, unit):
    """What the ranges as they are typed would have judged, beside those that are saved."""
    saved = profiles.targets_of(profile)
    found = foretell(profile.kind, saved, typed_ranges(forms, saved))
    return ForetoldShown.of(found, Said(unit))


def _shown(profile, said):
    have = {one.key: one for one in profile.ranges.all()}
    rows = tuple(
        (label, said.range(have[key].low, have[key].high, kind)) for key, label, kind in profiles.TARGETS if key in have
    )
    return ProfileShown(profile, rows)
