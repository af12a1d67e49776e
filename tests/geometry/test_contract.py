"""What holds for every elementwise function: any shape, NaN stays where it is, many are as one, nothing is changed."""

from dataclasses import is_dataclass

import numpy as np
import pytest

from geometry import derived_uncertainty as derived
from geometry import exits, force, frets, intonation, pitch, relief, saddle, strings, tail, threads, uncertainty

# Function, and believable ranges of its arguments: the first one is positional.
ELEMENTWISE = [
    (pitch.frequency_hz, {"midi_note": (30, 80), "reference_hz": (400, 460)}),
    (pitch.midi_from_hz, {"frequency_hz": (50, 900), "reference_hz": (400, 460)}),
    (pitch.cents_between, {"frequency_hz": (50, 900), "from_hz": (50, 900)}),
    (pitch.ratio_from_cents, {"interval_cents": (-1200, 1200)}),
    (frets.fret_fraction, {"fret": (0, 24)}),
    (frets.fret_position_mm, {"fret": (0, 24), "scale_mm": (300, 900)}),
    (frets.speaking_length_mm, {"fret": (0, 24), "scale_mm": (300, 900)}),
    (frets.fret_radius_mm, {"fret": (0, 24), "radius_nut_mm": (180, 300), "radius_end_mm": (250, 500),
                            "end_fret": (19, 24)}),
    (frets.crown_drop_mm, {"lateral_mm": (-25, 25), "radius_mm": (150, 500)}),
    (relief.hang_fraction, {"fret": (1, 22), "end_fret": (19, 24)}),
    (relief.relief_from_gap_mm, {"gap_mm": (-0.2, 0.5), "fret": (3, 15), "end_fret": (19, 24)}),
    (strings.plain_mass_kg_per_m, {"diameter_mm": (0.2, 1.2), "density_kg_per_m3": (1000, 9000)}),
    (strings.wrap_wire_mm, {"diameter_mm": (0.6, 1.2), "core_mm": (0.2, 0.5)}),
    (strings.wound_mass_kg_per_m, {"core_mm": (0.3, 0.6), "wrap_mm": (0.1, 0.5), "core_density_kg_per_m3": (7000, 8000),
                                   "wrap_density_kg_per_m3": (8000, 9000)}),
    (strings.tension_n, {"mass_kg_per_m": (3e-4, 7e-3), "length_mm": (500, 700), "frequency_hz": (80, 330)}),
    (strings.frequency_from_tension_hz, {"tension_n": (40, 120), "mass_kg_per_m": (3e-4, 7e-3),
                                         "length_mm": (500, 700)}),
    (strings.axial_stiffness_n, {"core_mm": (0.2, 0.6), "young_pa": (1e9, 2e11)}),
    (strings.bending_stiffness_n_m2, {"core_mm": (0.2, 0.6), "young_pa": (1e9, 2e11)}),
    (threads.turns, {"travel_mm": (-2, 2), "pitch_mm": (0.4, 1.3)}),
    (threads.travel_mm, {"turns": (-2, 2), "pitch_mm": (0.4, 1.3)}),
    (tail.front_fall_rad, {"neck_tilt_rad": (0, 0.1), "nut_mm": (0, 1), "crest_mm": (2, 5), "crest_x_mm": (500, 700)}),
    (tail.rear_fall_rad, {"drop_mm": (2, 12), "run_mm": (30, 50), "bar_radius_mm": (0, 7)}),
    (tail.tail_path, {"crest_mm": (13, 17), "exit_mm": (0, 10), "run_mm": (30, 50), "front_fall_rad": (0, 0.1),
                      "edge_behind_mm": (4, 8), "edge_below_mm": (1, 3), "bar_radius_mm": (0, 6)}),
    (exits.exit_bounds, {"crest_mm": (13, 17), "run_mm": (30, 50), "front_fall_rad": (0, 0.1),
                         "break_low_rad": (0.1, 0.15), "break_high_rad": (0.2, 0.4), "edge_behind_mm": (4, 8),
                         "edge_below_mm": (1, 3), "clearance_low_mm": (0, 0.8), "bar_radius_mm": (0, 6)}),
    (force.saddle_force, {"tension_n": (40, 120), "front_fall_rad": (0, 0.1), "rear_fall_rad": (0, 0.4)}),
    (force.holding_force_n, {"resultant_n": (0, 40), "half_angle_rad": (0.3, 1)}),
    (force.holding_break_rad, {"side_n": (0, 8), "tension_n": (40, 120), "half_angle_rad": (0.3, 1)}),
    (force.pluck_side_force_n, {"pluck_n": (0, 8), "from_saddle_mm": (20, 300), "length_mm": (500, 700)}),
    (force.capstan_bound_cents, {"break_rad": (0, 0.5), "friction": (0, 0.6)}),
    (saddle.saddle_reach, {"move_mm": (-3, 3), "back_left_mm": (0, 5), "forward_left_mm": (0, 5), "facing": (1, 1),
                           "turn_shift_mm": (1, 3)}),
    (intonation.intonation_move_mm, {"interval_cents": (-30, 30), "open_mm": (500, 700), "fret": (5, 15)}),
    (intonation.cents_after_move, {"interval_cents": (-30, 30), "move_mm": (-4, 4), "open_mm": (500, 700),
                                   "fret": (5, 15)}),
    (uncertainty.standard_uncertainty, {"resolution": (0, 1)}),
    (uncertainty.expanded_uncertainty, {"standard": (0, 1)}),
    (uncertainty.conformance_probability, {"value": (-2, 2), "low": (-1, 0), "high": (0, 1), "standard": (0.01, 1)}),
    (uncertainty.judge, {"value": (-2, 2), "low": (-1, 0), "high": (0, 1), "standard": (0.01, 0.3)}),
    (uncertainty.resolution_needed, {"value": (-2, 2), "low": (-1, 0), "high": (0, 1)}),
    (derived.move_standard_mm, {"interval_cents": (-30, 30), "standard_cents": (0.1, 1), "open_mm": (500, 700),
                                "fret": (5, 15)}),
]  # fmt: skip
NAMES = [function.__name__ for function, _ in ELEMENTWISE]


def sample(ranges, shape, seed=0):
    random = np.random.default_rng(seed)
    return {name: random.uniform(*span, shape) for name, span in ranges.items()}


def call(function, values):
    """The answer as a dict of arrays, arguments given by place where they may be."""
    places = function.__code__.co_varnames[: function.__code__.co_argcount]
    found = function(*(values[name] for name in places), **{k: v for k, v in values.items() if k not in places})
    if is_dataclass(found):
        return {name: np.asarray(getattr(found, name)) for name in found.__dataclass_fields__}
    return {"": np.asarray(found)}


@pytest.mark.parametrize(("function", "ranges"), ELEMENTWISE, ids=NAMES)
@pytest.mark.parametrize("shape", [(), (6,), (3, 6), (2, 3, 6), (0, 6)])
def test_shapes_come_out_as_they_go_in(function, ranges, shape):
    for name, value in call(function, sample(ranges, shape)).items():
        assert value.shape == shape, name


@pytest.mark.parametrize(("function", "ranges"), ELEMENTWISE, ids=NAMES)
def test_many_are_as_one(function, ranges):
    values = sample(ranges, (4, 6))
    together = call(function, values)
    for i in np.ndindex(4, 6):
        for name, value in call(function, {k: v[i] for k, v in values.items()}).items():
            np.testing.assert_allclose(together[name][i], value, rtol=1e-12, atol=1e-12, err_msg=name)


@pytest.mark.parametrize(("function", "ranges"), ELEMENTWISE, ids=NAMES)
def test_a_missing_value_stays_where_it_is(function, ranges):
    """With all arguments missing at one place nothing else changes; with the first missing that place has no number."""
    values = sample(ranges, (6,))
    whole = call(function, values)
    gone = {name: np.where(np.arange(6) == 2, np.nan, value) for name, value in values.items()}
    elsewhere = np.arange(6) != 2
    for name, value in call(function, gone).items():
        np.testing.assert_array_equal(value[elsewhere], whole[name][elsewhere], err_msg=name)
    first = next(iter(ranges))
    missing = call(function, values | {first: gone[first]})
    assert any(np.isnan(value[2]) for value in missing.values() if value.dtype.kind == "f")


@pytest.mark.parametrize(("function", "ranges"), ELEMENTWISE, ids=NAMES)
def test_arguments_are_left_alone(function, ranges):
    values = sample(ranges, (3, 6))
    before = {name: value.copy() for name, value in values.items()}
    for value in values.values():
        value.flags.writeable = False
    call(function, values)
    for name, value in values.items():
        np.testing.assert_array_equal(value, before[name])


@pytest.mark.parametrize(("function", "ranges"), ELEMENTWISE, ids=NAMES)
def test_text_is_no_number(function, ranges):
    values = sample(ranges, ())
    for name in values:
        with pytest.raises(ValueError, match=f"{name} is '1.6'"):
            call(function, values | {name: "1.6"})
