"""Equal temperament and note names; pretty_midi is the second opinion."""

import warnings

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import GeometryError
from geometry.pitch import (
    cents_between,
    frequency_hz,
    midi_from_hz,
    midi_from_name,
    ratio_from_cents,
    tuning_midi,
)

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import pretty_midi


@pytest.mark.parametrize("note", range(128))
def test_a_music_library_agrees(note):
    assert frequency_hz(note) == pytest.approx(pretty_midi.note_number_to_hz(note), rel=1e-14)


@pytest.mark.parametrize("note", range(0, 128, 5))
def test_names_as_a_music_library_writes_them(note):
    assert midi_from_name(pretty_midi.note_number_to_name(note)) == note


def test_standard_tuning_is_as_printed():
    """University Physics vol. 1, ch. 16 (m58370): frequencies of the open strings, printed to 0.01 Hz (read)."""
    printed = [82.41, 110.00, 146.83, 196.00, 246.94, 329.63]
    np.testing.assert_allclose(frequency_hz(tuning_midi("E2 A2 D3 G3 B3 E4")), printed, atol=0.005)


@given(st.floats(-12, 140), st.floats(380, 480))
def test_note_numbers_read_back(note, reference):
    frequency = frequency_hz(note, reference_hz=reference)
    assert midi_from_hz(frequency, reference_hz=reference) == pytest.approx(note, abs=1e-9)


@given(st.floats(20, 5000), st.floats(-2400, 2400))
def test_cents_read_back(frequency, cents):
    assert cents_between(frequency * ratio_from_cents(cents), frequency) == pytest.approx(cents, abs=1e-8)


@pytest.mark.parametrize("name", ["", "H2", "E", "2", "E22", "E##2", "Fb-2", None, 40, "E2 A2"])
def test_what_is_no_note_is_refused(name):
    with pytest.raises(GeometryError, match="a note with its octave"):
        midi_from_name(name)


def test_flats_sharps_and_their_signs():
    assert midi_from_name("B♭1") == midi_from_name("bb1") == midi_from_name("A#1") == midi_from_name("A♯1") == 34
    assert midi_from_name("Cb4") == midi_from_name("B3")
    assert midi_from_name("C-1") == 0


def test_a_tuning_needs_a_note():
    with pytest.raises(GeometryError):
        tuning_midi("  ")


def test_frequencies_must_be_above_0():
    with pytest.raises(GeometryError, match="frequency_hz is 0"):
        cents_between(0.0, 440.0)
