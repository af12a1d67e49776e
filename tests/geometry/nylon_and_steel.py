"""Strings and guitars for the tests of prediction: drawn at random by hypothesis, or two common ones."""

import numpy as np
from hypothesis import strategies as st

from geometry.fretting import Elastic, Fretting, Placement, elastic_from_sensitivity

# A nylon set and a light steel one, bass to treble: stretch ratio and bend length.
NYLON = elastic_from_sensitivity(
    [28.6, 23.9, 22.5, 28.8, 23.8, 23.6], radius_mm=[0.546, 0.445, 0.368, 0.512, 0.409, 0.356]
)
STEEL = Elastic([370.0, 250.0, 210.0, 395.0, 287.0, 134.0], [2.25, 1.72, 1.32, 2.15, 1.28, 0.75])
CLASSICAL = Placement(scale_mm=650.0, nut_mm=1.0, crest_mm=5.0)
ELECTRIC = Placement(scale_mm=628.0, nut_mm=0.45, crest_mm=3.2)


def strings(count):
    """Elasticities of so many strings."""
    return st.builds(
        lambda ratio, bend: Elastic(np.array(ratio), np.array(bend)),
        st.lists(st.floats(30, 500), min_size=count, max_size=count),
        st.lists(st.floats(0.3, 2.5), min_size=count, max_size=count),
    )


def guitars(count):
    """Placements of so many strings, set-backs included."""
    several = {"min_size": count, "max_size": count}
    return st.builds(
        lambda scale, nut, climb, saddle, ahead: Placement(
            scale, np.array(nut), np.array(nut) + np.array(climb), np.array(saddle), np.array(ahead)
        ),
        st.floats(500, 870), st.lists(st.floats(0.2, 1.5), **several), st.lists(st.floats(1, 6), **several),
        st.lists(st.floats(-3, 5), **several), st.lists(st.floats(-1, 0.5), **several),
    )  # fmt: skip


def manners():
    """How one frets, and what the ends do."""
    share = st.floats(0, 1)
    return st.builds(
        Fretting, press_mm=st.floats(2, 12), press_depth_mm=st.floats(0, 0.6), saddle_clamp=share, nut_clamp=share,
        fret_clamp=share, beyond_nut_mm=st.floats(0, 150), beyond_saddle_mm=st.floats(0, 150),
    )  # fmt: skip


def common_instruments():
    """Six strings of nylon high over the frets, or of steel low over them: elasticity, placement, manner."""

    def made(kind, share, manner):
        ratio, bend, nut, climb = (low + (high - low) * one for (low, high), one in zip(kind, share, strict=True))
        return Elastic(ratio, bend), Placement(500 + 370 * share[0], nut_mm=nut, crest_mm=nut + climb), manner

    kinds = st.sampled_from([
        ((30, 115), (0.9, 2.8), (0.5, 1.4), (3.0, 6.0)), ((100, 420), (0.6, 2.4), (0.2, 0.8), (1.5, 3.5)),
    ])  # fmt: skip
    shares = st.lists(st.lists(st.floats(0, 1), min_size=6, max_size=6), min_size=4, max_size=4)
    return st.builds(made, kinds, shares.map(np.array), manners())


def reversed_strings(record):
    """The same instrument built the other way round."""
    return type(record)(**{name: value[..., ::-1] for name, value in vars(record).items()})


def one_of(record, index):
    """One instrument of many, or one string of many as an instrument of its own."""
    return type(record)(**{
        name: value[index] if value.ndim and len(value) > 1 else value for name, value in vars(record).items()
    })  # fmt: skip
