"""The stud window against brute force, shapely's polygons and scipy's linear programmes."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog, minimize
from shapely.geometry import Point, Polygon, box

from geometry.bridge import lever
from geometry.errors import GeometryError
from geometry.window import stud_window, window_corners_mm
from tests.geometry_cast import between, neck, per_string

Y = neck().lateral_bridge_mm
SPAN, ABOVE, LOW, HIGH = 82.0, 5.0, 0.0, 20.0
STUDS = {
    "lateral_mm": Y, "span_mm": SPAN, "above_stud_mm": ABOVE, "stud_low_mm": LOW, "stud_high_mm": HIGH,
}  # fmt: skip
SHARES = lever(Y, span_mm=SPAN)


def bounds():
    """Bounds of six strings, some windows wide, some narrow, some empty."""
    return st.tuples(per_string(4, 16), per_string(-1, 6)).map(lambda pair: (pair[0], pair[0] + pair[1]))


def shapely_window(lower, upper, most):
    """The same set cut out of the studs' square, half-plane by half-plane."""
    window = box(LOW, LOW, HIGH, HIGH)
    cuts = [(SHARES[i], upper[i] - ABOVE) for i in range(6)] + [(-SHARES[i], ABOVE - lower[i]) for i in range(6)]
    for normal, offset in [*cuts, (np.array([1.0, -1.0]), most), (np.array([-1.0, 1.0]), most)]:
        if np.isfinite(offset):
            size = np.hypot(*normal)
            n = normal / size
            foot, along = n * offset / size, np.array([-n[1], n[0]])
            far = 1e4
            window = window.intersection(Polygon([foot + far * along, foot + far * along - far * n,
                                                  foot - far * along - far * n, foot - far * along]))  # fmt: skip
    return window


def corners_of(lower, upper, most):
    corners = window_corners_mm(lower, upper, **STUDS, difference_most_mm=most)
    return corners[~np.isnan(corners[:, 0])]


@given(bounds(), between(0.1, 4))
def test_shapely_cuts_the_same_polygon(pair, most):
    lower, upper = pair
    theirs, found = shapely_window(lower, upper, most), stud_window(*pair, bass_mm=6, treble_mm=6, **STUDS,
                                                                    difference_most_mm=most)  # fmt: skip
    if abs(found.room_mm) < 1e-6:
        return
    assert theirs.is_empty is bool(found.empty)
    ours = corners_of(lower, upper, most)
    if theirs.is_empty:
        assert len(ours) == 0
    elif theirs.area > 1e-9:
        assert Polygon(ours).is_valid
        assert Polygon(ours).exterior.is_ccw
        assert Polygon(ours).symmetric_difference(theirs).area == pytest.approx(0.0, abs=1e-6)


@given(bounds(), between(0.1, 4))
def test_no_point_of_a_grid_contradicts_it(pair, most):
    lower, upper = pair
    found = stud_window(lower, upper, bass_mm=6, treble_mm=6, **STUDS, difference_most_mm=most)
    grid = np.stack(np.meshgrid(np.linspace(LOW, HIGH, 81), np.linspace(LOW, HIGH, 81)), axis=-1).reshape(-1, 2)
    exits = grid @ SHARES.T + ABOVE
    keeps = ((exits >= lower) & (exits <= upper)).all(axis=1) & (np.abs(grid[:, 1] - grid[:, 0]) <= most)
    if found.empty:
        assert not keeps.any()
    each = stud_window(lower, upper, bass_mm=grid[:, 0], treble_mm=grid[:, 1], **STUDS, difference_most_mm=most)
    np.testing.assert_array_equal(each.inside, keeps)


@given(bounds(), between(0.1, 4))
def test_scipy_agrees_on_the_room(pair, most):
    """Largest margin that one setting leaves every string and stud: a linear programme of three unknowns."""
    lower, upper = pair
    found = stud_window(lower, upper, bass_mm=6, treble_mm=6, **STUDS, difference_most_mm=most)
    ends = np.eye(2)
    rows = np.vstack([np.c_[SHARES, np.ones(6)], np.c_[-SHARES, np.ones(6)], np.c_[ends, np.ones(2)],
                      np.c_[-ends, np.ones(2)], [[1, -1, 0], [-1, 1, 0]]])  # fmt: skip
    limits = np.r_[upper - ABOVE, ABOVE - lower, HIGH, HIGH, -LOW, -LOW, most, most]
    best = linprog([0, 0, -1], rows, limits, bounds=[(None, None)] * 3)
    assert found.room_mm == pytest.approx(best.x[2], abs=1e-7)
    at_best = stud_window(lower, upper, bass_mm=found.best_bass_mm, treble_mm=found.best_treble_mm, **STUDS,
                          difference_most_mm=most)  # fmt: skip
    assert min(at_best.lower_margin_mm.min(), at_best.upper_margin_mm.min()) >= found.room_mm - 1e-9
    assert at_best.difference_margin_mm >= -1e-9


@given(bounds(), between(0.1, 4), between(0, 20), between(0, 20))
def test_the_smallest_move_ends_inside_and_is_the_smallest(pair, most, bass, treble):
    lower, upper = pair
    found = stud_window(lower, upper, bass_mm=bass, treble_mm=treble, **STUDS, difference_most_mm=most)
    move = np.array([found.move_bass_mm, found.move_treble_mm])
    if found.empty:
        assert np.isnan(move).all()
        return
    after = stud_window(lower, upper, bass_mm=bass + move[0], treble_mm=treble + move[1], **STUDS,
                        difference_most_mm=most)  # fmt: skip
    assert after.inside
    corners = corners_of(lower, upper, most)
    if len(corners) >= 3 and Polygon(corners).area > 1e-6:
        assert np.hypot(*move) == pytest.approx(Polygon(corners).distance(Point(bass, treble)), abs=1e-7)


def test_a_general_solver_finds_the_same_move():
    lower, upper = np.linspace(9, 10, 6), np.linspace(11, 12, 6)
    found = stud_window(lower, upper, bass_mm=2.0, treble_mm=11.0, **STUDS, difference_most_mm=1.0)
    start = np.array([2.0, 11.0])
    keep = [{"type": "ineq", "fun": lambda p: SHARES @ p + ABOVE - lower},
            {"type": "ineq", "fun": lambda p: upper - SHARES @ p - ABOVE},
            {"type": "ineq", "fun": lambda p: [1 - p[0] + p[1], 1 + p[0] - p[1]]}]  # fmt: skip
    best = minimize(lambda p: ((p - start) ** 2).sum(), [5.0, 5.0], constraints=keep, method="SLSQP", tol=1e-14)
    np.testing.assert_allclose([found.move_bass_mm, found.move_treble_mm], best.x - start, atol=1e-5)


def test_what_makes_it_empty_is_named():
    lower, upper = np.full(6, 8.0), np.full(6, 12.0)
    lower[2], upper[4] = 11.0, 9.0  # two strings ask for different things
    found = stud_window(lower, upper, bass_mm=5.0, treble_mm=5.0, **STUDS, difference_most_mm=0.0)
    assert (bool(found.empty), int(found.limit_lower), int(found.limit_upper)) == (True, 2, 4)
    assert found.room_mm == pytest.approx(-1.0)
    lower[:], upper[:] = 8.0, 12.0
    lower[3], upper[3] = 10.0, 9.5  # one string for itself
    found = stud_window(lower, upper, bass_mm=5.0, treble_mm=5.0, **STUDS)
    assert (int(found.limit_lower), int(found.limit_upper)) == (3, 3)
    # All exits wanted below what the studs' travel allows: the studs themselves are the lower bound.
    found = stud_window(np.full(6, -9.0), np.full(6, 4.0), bass_mm=5.0, treble_mm=5.0, **STUDS)
    assert found.empty
    assert int(found.limit_lower) in (6, 7)


def test_unequal_studs_use_up_the_difference():
    """Common practice, no source: both studs stand alike within a millimetre."""
    found = stud_window(np.full(6, 8.0), np.full(6, 14.0), bass_mm=5.0, treble_mm=6.4, **STUDS, difference_most_mm=1.0)
    assert found.difference_mm == pytest.approx(1.4)
    assert found.difference_margin_mm == pytest.approx(-0.4)
    assert not found.inside
    np.testing.assert_allclose([found.move_bass_mm, found.move_treble_mm], [0.2, -0.2], atol=1e-12)


def test_one_point_is_a_window():
    found = stud_window(np.full(6, 10.0), np.full(6, 10.0), bass_mm=5.0, treble_mm=5.0, **STUDS)
    assert not found.empty
    assert found.inside
    np.testing.assert_allclose(corners_of(np.full(6, 10.0), np.full(6, 10.0), 1.0), [[5.0, 5.0]], atol=1e-9)


def test_strings_without_bounds_leave_the_studs_free():
    found = stud_window(np.full(6, -np.inf), np.full(6, np.inf), bass_mm=5.0, treble_mm=5.0, **STUDS)
    assert np.isnan(found.room_mm)
    assert not found.empty
    assert found.inside
    assert np.isinf(found.lower_margin_mm).all()
    assert Polygon(corners_of(np.full(6, -np.inf), np.full(6, np.inf), np.inf)).equals(box(LOW, LOW, HIGH, HIGH))


def test_missing_strings_do_not_count_and_unread_studs_are_not_judged():
    lower, upper = np.full(6, 9.0), np.full(6, 12.0)
    lower[3] = np.nan
    found = stud_window(lower, upper, bass_mm=np.nan, treble_mm=5.0, **STUDS)
    assert found.room_mm == pytest.approx(1.5)
    assert not found.inside
    assert np.isnan([found.move_bass_mm, found.difference_mm]).all()


def test_an_impossible_bound_empties_it():
    found = stud_window(np.full(6, -np.inf), np.r_[np.full(5, 12.0), -np.inf], bass_mm=5.0, treble_mm=5.0, **STUDS)
    assert found.empty
    assert found.room_mm == -np.inf
    assert int(found.limit_upper) == 5


@given(bounds(), between(0, 20), between(0, 20))
def test_mirrored_instruments_have_mirrored_windows(pair, bass, treble):
    lower, upper = pair
    one = stud_window(lower, upper, bass_mm=bass, treble_mm=treble, **STUDS, difference_most_mm=1.0)
    other = stud_window(lower[::-1], upper[::-1], bass_mm=treble, treble_mm=bass, **STUDS, difference_most_mm=1.0)
    assert other.room_mm == pytest.approx(one.room_mm, abs=1e-9)
    if not one.empty:
        np.testing.assert_allclose([other.move_bass_mm, other.move_treble_mm], [one.move_treble_mm, one.move_bass_mm],
                                   atol=1e-7)  # fmt: skip


def test_many_windows_at_once_are_as_one_by_one():
    random = np.random.default_rng(11)
    lower = random.uniform(6, 12, (40, 6))
    upper = lower + random.uniform(-0.5, 5, (40, 6))
    bass, treble = random.uniform(0, 15, (2, 40))
    spans = random.uniform(75, 95, 40)
    same = {"lateral_mm": Y, "difference_most_mm": 1.0}
    many = stud_window(lower, upper, bass_mm=bass, treble_mm=treble, span_mm=spans, **same)
    for i in range(40):
        one = stud_window(lower[i], upper[i], bass_mm=bass[i], treble_mm=treble[i], span_mm=spans[i], **same)
        for name in one.__dataclass_fields__:
            np.testing.assert_allclose(getattr(many, name)[i], getattr(one, name), atol=1e-9, err_msg=name)


@pytest.mark.parametrize(
    ("changes", "message"),
    [({"span_mm": 0.0}, "span_mm"), ({"difference_most_mm": -1.0}, "difference_most_mm"),
     ({"stud_low_mm": 30.0}, "stud_low_mm"), ({"stud_high_mm": np.inf}, "finite")],
)  # fmt: skip
def test_bad_arguments(changes, message):
    with pytest.raises(GeometryError, match=message):
        stud_window(np.full(6, 8.0), np.full(6, 12.0), bass_mm=5, treble_mm=5, **(STUDS | changes))


def test_arguments_are_left_alone():
    lower, upper = np.full(6, 8.0), np.full(6, 12.0)
    lower.flags.writeable = upper.flags.writeable = False
    stud_window(lower, upper, bass_mm=np.array(1.0), treble_mm=np.array(9.0), **STUDS)
