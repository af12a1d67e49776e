"""Equal temperament against printed frequencies."""

import numpy as np
import pretty_midi
import pytest

from geometry.pitch import cents_between, frequency_hz, midi_from_name, tuning_midi

# University Physics (Ling, Sanny, Moebs; OpenStax 2016), module m58370, open strings of a guitar; read.
# C4: Contemporary Mathematics (OpenStax), module m00115; read. Tolerance: half of the last printed digit.
PRINTED = [
    ("E4", 329.63, 0.005), ("B3", 246.94, 0.005), ("G3", 196.00, 0.005), ("D3", 146.83, 0.005), ("A2", 110.00, 0.005),
    ("E2", 82.41, 0.005), ("C4", 262.0, 0.5),
]  # fmt: skip

# Docstring of midi_to_hz in the music library librosa 0.11.0, notes 36 to 47; read.
OCTAVE_FROM_C2 = [
    65.406, 69.296, 73.416, 77.782, 82.407, 87.307, 92.499, 97.999, 103.826, 110.0, 116.541, 123.471,
]  # fmt: skip


@pytest.mark.parametrize(("name", "printed", "tolerance"), PRINTED)
def test_open_strings_and_middle_c(name, printed, tolerance):
    assert frequency_hz(midi_from_name(name)) == pytest.approx(printed, abs=tolerance)


def test_an_octave_of_printed_frequencies():
    assert frequency_hz(np.arange(36, 48)) == pytest.approx(OCTAVE_FROM_C2, abs=5e-4)


def test_a_music_library_gives_the_same_doubles():
    """Second opinion: pretty_midi, over the whole range of notes."""
    notes = np.arange(128)
    assert frequency_hz(notes) == pytest.approx([pretty_midi.note_number_to_hz(one) for one in notes], rel=1e-14)


def test_note_names_of_a_music_library():
    """Second opinion: pretty_midi's note names."""
    names = ["E2", "A2", "D3", "G3", "B3", "E4", "F#3", "Bb1", "C-1"]
    assert tuning_midi(names).tolist() == [pretty_midi.note_name_to_number(one) for one in names]


def test_reference_pitch():
    """ISO 16:1975: A4 is 440 Hz; quoted in encyclopaedias, the clause itself not read."""
    assert frequency_hz(midi_from_name("A4")) == 440.0


def test_a_difference_that_is_noticed():
    """College Physics (Urone, Hinrichs; OpenStax 2012), module m42297: 500.0 and 501.5 Hz differ noticeably, by 0.3 %;
    read. In cents: computed."""
    assert cents_between(501.5, 500.0) == pytest.approx(5.1859, abs=1e-4)


def test_cents_per_relative_change():
    """Anderson & Beausoleil (2024) use 1731 cents per unit of relative change; read."""
    assert cents_between(1.0 + 1e-7, 1.0) / 1e-7 == pytest.approx(1731.0, abs=0.5)
