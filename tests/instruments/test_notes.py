"""Notes by name. Middle C is C4 and number 60, A4 69: ISO 16 (440 Hz) and scientific pitch notation, from memory."""

import pretty_midi
import pytest

from shop.instruments.tunings import midi_of, note_name


@pytest.mark.parametrize(
    ("name", "number"), [("C4", 60), ("a4", 69), ("E2", 40), ("F#3", 54), ("Bb1", 34), ("b♭1", 34), (" e 4 ", 64)]
)
def test_a_name_is_read(name, number):
    assert midi_of(name) == number


@pytest.mark.parametrize("number", range(128))
def test_every_note_agrees_with_another_library(number):
    """pretty_midi is a general library that names notes by itself."""
    name = note_name(number)
    assert midi_of(name) == number
    assert pretty_midi.note_name_to_number(name.replace("♯", "#")) == number


@pytest.mark.parametrize("name", ["", "H2", "E", "E22", "2E", "E#b2", "G9#", "A99", "c" * 99])
def test_what_is_no_note_is_refused_in_a_sentence(name):
    with pytest.raises(ValueError, match=r"\.$"):
        midi_of(name)


def test_no_note_has_no_name():
    assert note_name(None) == ""
