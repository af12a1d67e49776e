"""Slots and crests in one go are what the functions for each give, one worksheet or many."""

import numpy as np
import pytest

from geometry.derived_uncertainty import crest_standard_mm, nut_standard_mm
from geometry.errors import GeometryError
from geometry.neck import crest_from_height_mm, nut_from_gap_mm
from geometry.strings_read import strings_from_readings
from tests import geometry_cast as cast


def arguments(batch):
    random = np.random.default_rng(3)
    gap, height = random.uniform(0.05, 0.4, (*batch, 6)), random.uniform(1.0, 2.5, (*batch, 6))
    gap[..., 2] = np.nan
    return {"gap_mm": gap, "height_mm": height, "relief_mm": random.uniform(-0.1, 0.5, batch)}


@pytest.mark.parametrize("batch", [(), (4,), (3, 4)])
@pytest.mark.parametrize("radius_end", [305.0, 400.0])
def test_the_same_as_one_by_one(batch, radius_end):
    neck = cast.neck(radius_end_mm=np.full(batch, radius_end), end_fret=np.full(batch, 24.0))
    given = arguments(batch)
    read = strings_from_readings(
        neck, **given, gap_standard_mm=0.014, height_standard_mm=0.03, relief_standard_mm=0.02, fret=14, held_fret=4,
        gap_fret=2,
    )  # fmt: skip
    places = {"held_fret": 4, "gap_fret": 2}
    nut = nut_from_gap_mm(neck, given["gap_mm"], relief_mm=given["relief_mm"], **places)
    crest = crest_from_height_mm(neck, given["height_mm"], fret=14, nut_mm=nut, relief_mm=given["relief_mm"])
    doubts = {"gap_standard_mm": 0.014, "relief_standard_mm": 0.02, **places}
    for found, wanted in (
        (read.nut_mm, nut),
        (read.crest_mm, crest),
        (read.nut_standard_mm, nut_standard_mm(neck, **doubts) + 0 * nut),
        (read.crest_standard_mm, crest_standard_mm(neck, height_standard_mm=0.03, fret=14, **doubts) + 0 * crest),
    ):
        assert found.shape == (*batch, 6)
        np.testing.assert_allclose(found, wanted, rtol=1e-12, atol=1e-12)


def test_one_neck_for_many_worksheets():
    read = strings_from_readings(cast.neck(), **arguments((5,)))
    assert read.crest_mm.shape == (5, 6)


def test_the_gap_lies_before_the_held_fret():
    with pytest.raises(GeometryError, match="gap_fret is 3"):
        strings_from_readings(cast.neck(), **arguments(()), held_fret=3, gap_fret=3)
