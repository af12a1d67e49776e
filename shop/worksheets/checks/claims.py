"""Every value that is judged against a range, by check: gathered first, so that all are judged in one pass."""

import numpy as np

from shop.worksheets.judging import Claim, source_of
from shop.worksheets.model.tail import OUTER, STUDS


def relief(bench):
    value = bench.sheet.value("relief")
    if value is None:
        return {}
    return {None: Claim(value, *bench.sheet.target("relief"), source_of(bench.sheet, "relief"))}


def of_each_string(key):
    """Claims of a reading that is taken once a string."""

    def claims(bench):
        sheet = bench.sheet
        return {
            number: Claim(value, *sheet.target(key, number), source_of(sheet, key, number))
            for number in sheet.numbers
            if (value := sheet.value(key, number)) is not None
        }

    return claims


def arch(bench):
    part = bench.part("arch") if bench.part("heights") else None
    if part is None:
        return {}
    low_high = bench.sheet.target("arch")
    # About half of a crest's error arrives at fret 12: a reading there counts double at the crest.
    return {
        number: Claim(float(error), *low_high, source_of(bench.sheet, "height_12", number, slope=2.0))
        for number, error in zip(bench.sheet.numbers, part.fit.error_mm, strict=True)
        if np.isfinite(error)
    }


def break_angle(bench):
    """Degrees."""
    tail = bench.part("tail")
    if tail is None:
        return {}
    degrees, low_high = np.degrees(tail.path.break_rad), bench.sheet.target(bench.sheet.family.angle_target)
    slope = np.degrees(np.cos(tail.path.rear_fall_rad) ** 2 / tail.run)
    return {
        number: Claim(float(degrees[i]), *low_high, _line_sources(bench, tail, i, slope[i]))
        for i, number in enumerate(bench.sheet.numbers)
        if np.isfinite(degrees[i])
    }


def edge_clearance(bench):
    tail = bench.part("tail")
    if tail is None:
        return {}
    low_high, slope = bench.sheet.target("edge_clearance"), tail.edge_behind / tail.run
    return {
        number: Claim(
            float(tail.path.clearance_mm[i]), *low_high,
            source_of(bench.sheet, "edge_gap", number) if tail.gap_read[i]
            else _line_sources(bench, tail, i, slope[i]),
        )
        for i, number in enumerate(bench.sheet.numbers)
        if np.isfinite(tail.path.clearance_mm[i])
    }  # fmt: skip


def _line_sources(bench, tail, i, slope):
    """The readings that a string's line rests on, each by its share at that string.

    `slope` is the change of the value for each millimetre of crest, or of stud the other way.
    """
    return tuple(
        source
        for keys, shares in ((OUTER, tail.crest_share), (STUDS, tail.stud_share))
        for key, share in zip(keys, shares[i], strict=True)
        for source in source_of(bench.sheet, key, slope=float(slope * share))
    )


def stud_difference(bench):
    values = [bench.sheet.value(key) for key in STUDS]
    if None in values:
        return {}
    sources = tuple(source for key in STUDS for source in source_of(bench.sheet, key))
    return {None: Claim(abs(values[1] - values[0]), *bench.sheet.target("stud_difference"), sources)}


CLAIMS = {
    "relief": relief, "nut_gap": of_each_string("nut_gap"), "height_12": of_each_string("height_12"), "arch": arch,
    "break_angle": break_angle, "edge_clearance": edge_clearance, "stud_difference": stud_difference,
    "octave": of_each_string("octave"),
}  # fmt: skip
