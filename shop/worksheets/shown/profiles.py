"""The owner's list of target profiles."""

from dataclasses import dataclass
from itertools import groupby

from shop.worksheets import profiles
from shop.worksheets.foretold import foretell
from shop.worksheets.forms import typed_ranges
from shop.worksheets.shown.foretold import ForetoldShown
from shop.worksheets.wording.said import Said


@dataclass(frozen=True)
class ProfileShown:
    profile: object
    rows: tuple  # (label, range in words)


def groups_shown(found, *, by_kind, unit):
    """[(kind in words, [ProfileShown …])] of sorted profiles; all under one '' where they are not sorted by kind."""
    said = Said(unit)
    groups = groupby(found, key=lambda one: one.get_kind_display() if by_kind else "")
    return [(kind, [_shown(one, said) for one in kept]) for kind, kept in groups]


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
