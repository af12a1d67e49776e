"""Where the saddles usually end up in this shop, string by string."""

from dataclasses import dataclass

import numpy as np

from shop.worksheets.families.parts import MM
from shop.worksheets.shown.short import short
from shop.worksheets.wording.said import Said

FAR = 2.0  # spreads from the middle: such a string deserves a second look


@dataclass(frozen=True)
class UsualString:
    string: int
    usual: str
    count: int
    here: str
    is_unusual: bool


@dataclass(frozen=True)
class UsualShown:
    highest: int  # the string that the others are measured from
    count: int
    is_fitted: bool
    rows: tuple

    @classmethod
    def of(cls, usual, said: Said):
        """None where nothing has been learned."""
        if not usual:
            return None
        rows = tuple(_row(usual, at, said) for at in range(len(usual.numbers) - 1))
        return cls(usual.numbers[-1], int(usual.count.max()), usual.is_fitted, tuple(one for one in rows if one))


def _row(usual, at, said):
    middle, spread, here = (float(one[at]) for one in (usual.middle, usual.spread, usual.here))
    if not np.isfinite(middle):
        return None
    far = np.isfinite(here) and spread > 0 and abs(here - middle) > FAR * spread
    return UsualString(
        usual.numbers[at], f"{short(said, middle, MM)} ± {said.length(spread)}", int(usual.count[at]),
        said.length(here) if np.isfinite(here) else "", bool(far),
    )  # fmt: skip
