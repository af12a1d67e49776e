"""All checks of a worksheet in one call: the same numbers as the functions give one by one."""

from dataclasses import fields, is_dataclass

import numpy as np
import pytest

from geometry.bridge import crest_on_posts_mm
from geometry.checks import check_sheets
from geometry.errors import GeometryError
from geometry.intonation import intonation_move_mm
from geometry.neck import height_at_fret_mm
from geometry.sheet import Readings, Record, Targets
from geometry.tail import exit_height_mm, tail_path
from geometry.uncertainty import Verdict
from tests.geometry_cast import (
    many_readings,
    neck,
    readings,
    record,
    standards,
    targets,
)


def walk(found, path=""):
    """(name, array) of every number in a nested answer."""
    for one in fields(found):
        value = getattr(found, one.name)
        if is_dataclass(value):
            yield from walk(value, f"{path}{one.name}.")
        else:
            yield f"{path}{one.name}", np.asarray(value)


def test_posts_of_the_sheet_bring_its_heights_to_the_middle_of_their_targets():
    """Read, move as advised, read again: the nearest straight line through the targets' middles, to 1e-9."""
    found = check_sheets(readings(), record(), targets(), standards())
    y = neck().lateral_bridge_mm
    moved = crest_on_posts_mm(found.crest_mm, lateral_mm=y, span_mm=74.0, bass_mm=found.arch.bass_mm,
                              treble_mm=found.arch.treble_mm)  # fmt: skip
    again = height_at_fret_mm(neck(), 12, nut_mm=found.nut_mm, crest_mm=moved, relief_mm=0.2)
    goal = np.linspace(1.85, 1.45, 6)
    np.testing.assert_allclose(again - goal, 0.5 * found.arch.error_mm, atol=1e-9)
    np.testing.assert_allclose(again, goal, atol=1e-9)  # these readings lie on a straight line


def test_each_part_is_what_its_function_says():
    sheet, instrument = readings(), record()
    found = check_sheets(sheet, instrument, targets(), standards())
    leaves = exit_height_mm(6.0, 5.5, lateral_mm=neck().lateral_bridge_mm, span_mm=82.0, above_stud_mm=5.0)
    climb = np.arctan2(found.crest_mm - found.nut_mm, 628.0)
    path = tail_path(sheet.crest_mm, leaves, run_mm=40.0, front_fall_rad=0.052 + climb, edge_behind_mm=6.0,
                     edge_below_mm=2.5)  # fmt: skip
    for name in path.__dataclass_fields__:
        np.testing.assert_allclose(getattr(found.path, name), getattr(path, name), err_msg=name)
    np.testing.assert_allclose(found.octave_move_mm, intonation_move_mm(sheet.octave_cents, open_mm=628.0))
    assert found.load_n == pytest.approx(found.tension_n.sum())
    assert found.post_bass_n + found.post_treble_n == pytest.approx(found.force.down_n.sum())


def test_verdicts_are_the_readings_against_their_limits():
    found = check_sheets(readings(relief_mm=0.5, stud_treble_mm=9.0), record(), targets(), standards())
    assert Verdict(found.relief.verdict) is Verdict.OUT_OF_RANGE
    assert Verdict(found.difference.verdict) is Verdict.OUT_OF_RANGE
    assert found.difference.margin == pytest.approx(-2.0)
    assert [Verdict(one).name for one in found.octave.verdict] == [
        "TOO_CLOSE", "TOO_CLOSE", "IN_RANGE", "OUT_OF_RANGE", "TOO_CLOSE", "TOO_CLOSE"
    ]  # fmt: skip


def test_a_sheet_without_readings_says_nothing_and_does_not_fall():
    found = check_sheets(Readings(height_12_mm=np.full(6, np.nan)), Record(neck=neck()), Targets())
    for name in ("relief", "difference", "height_12", "break_angle", "clearance", "octave"):
        assert (getattr(found, name).verdict == Verdict.UNKNOWN).all(), name
    assert np.isnan(found.path.break_rad).all()


def test_one_missing_reading_leaves_the_rest():
    whole = check_sheets(readings(), record(), targets(), standards())
    height = np.linspace(1.9, 1.45, 6)
    height[2] = np.nan
    gaps = check_sheets(readings(height_12_mm=height), record(), targets(), standards())
    assert np.isnan(gaps.crest_mm).tolist() == [False, False, True, False, False, False]
    assert np.isfinite(gaps.arch.bass_mm)
    np.testing.assert_array_equal(gaps.octave_move_mm, whole.octave_move_mm)


@pytest.mark.parametrize("chunk", [1, 7, 100, 4096])
def test_many_sheets_are_as_one_at_a_time(chunk):
    """To 1e-9, whatever is worked out together; the record has one value per sheet here, another for all there."""
    many = many_readings(25)
    spans = np.linspace(70.0, 78.0, 25)
    together = dict(walk(check_sheets(many, record(post_span_mm=spans), targets(), standards(), chunk=chunk)))
    for i in range(25):
        cut = {one.name: getattr(many, one.name) for one in fields(many)}
        cut = {
            name: value[i] if value.ndim == (2 if name in Readings.PER_STRING else 1) else value
            for name, value in cut.items()
        }
        alone = dict(walk(check_sheets(Readings(**cut), record(post_span_mm=spans[i]), targets(), standards())))
        for name, value in alone.items():
            np.testing.assert_allclose(together[name][i], value, atol=1e-9, err_msg=name)


def test_several_leading_axes():
    many = many_readings(12)
    shaped = Readings(**{
        one.name: getattr(many, one.name).reshape(3, 4, *getattr(many, one.name).shape[1:])
        if getattr(many, one.name).shape[:1] == (12,) else getattr(many, one.name)
        for one in fields(many)
    })  # fmt: skip
    found = check_sheets(shaped, record(), targets(), standards())
    assert found.path.break_rad.shape == (3, 4, 6)
    assert found.relief.verdict.shape == (3, 4)


def test_mirrored_sheets_have_mirrored_answers():
    def mirrored(array):
        return array[::-1] if np.ndim(array) else array

    one = check_sheets(readings(), record(), targets(), standards())
    flipped_neck = neck(lateral_nut_mm=-neck().lateral_nut_mm[::-1], lateral_bridge_mm=-neck().lateral_bridge_mm[::-1])
    base_readings, base_record, base_targets = readings(), record(neck=flipped_neck), targets()
    other = check_sheets(
        Readings(**{f.name: mirrored(getattr(base_readings, f.name)) for f in fields(Readings)}
                 | {"stud_bass_mm": 5.5, "stud_treble_mm": 6.0}),
        Record(**{f.name: mirrored(getattr(base_record, f.name)) for f in fields(Record) if f.name != "neck"},
               neck=flipped_neck),
        Targets(**{f.name: mirrored(getattr(base_targets, f.name)) for f in fields(Targets)}), standards(),
    )  # fmt: skip
    for pair in ((one.path.break_rad, other.path.break_rad), (one.crest_mm, other.crest_mm),
                 (one.arch.error_mm, other.arch.error_mm), (one.window.lower_margin_mm, other.window.lower_margin_mm)):
        np.testing.assert_allclose(pair[1], pair[0][::-1], atol=1e-9)
    np.testing.assert_allclose(other.arch.bass_mm, one.arch.treble_mm, atol=1e-9)
    np.testing.assert_allclose(other.post_bass_n, one.post_treble_n, atol=1e-9)


def test_bad_arguments():
    with pytest.raises(GeometryError, match="chunk"):
        check_sheets(readings(), record(), targets(), chunk=0)
    with pytest.raises(GeometryError, match=r"neck is None; it must be a geometry\.neck\.Neck"):
        Record(neck=None)
    with pytest.raises(GeometryError, match=r"relief_mm is '0\.2'"):
        Readings(relief_mm="0.2")
    with pytest.raises(GeometryError, match="one of full"):
        check_sheets(readings(), record(), targets(), rule="hopeful")


def test_arguments_are_left_alone():
    given = (readings(), record(), targets(), standards())
    for one in given:
        for name in one.PER_STRING:
            getattr(one, name).flags.writeable = False
    check_sheets(*given)
    check_sheets(many_readings(10), *given[1:], chunk=3)


def test_fewer_strings_are_filled_up_with_missing_ones():
    """Four strings alone, and the same four filled up to six, as where many instruments are checked together."""
    whole = (readings(), record(), targets(), standards())
    four = [resized(one, lambda table: table[..., :4]) for one in whole]
    filled = [resized(one, lambda table: np.append(table, [np.nan, np.nan])) for one in four]
    alone, together = check_sheets(*four), check_sheets(*filled)
    for name, value in walk(alone):
        other = dict(walk(together))[name].astype(float)
        if value.shape[-1:] == (4,):
            assert (np.isnan(other[4:]) | ~np.isfinite(other[4:]) | (other[4:] <= 0)).all(), name
            other = other[:4]
        np.testing.assert_allclose(other, value, rtol=1e-12, atol=1e-12, err_msg=name)


def resized(record, change):
    """The same record with `change` made to every array that has an axis of strings."""
    values = {}
    for name, value in vars(record).items():
        if is_dataclass(value):
            value = resized(value, change)
        elif name in record.PER_STRING and value.shape[-1] > 1:
            value = change(value)
        values[name] = value
    return type(record)(**values)
