"""Notes as players name them, and tunings in common use (common practice, no source)."""

import re

NAMES = ("C", "C♯", "D", "D♯", "E", "F", "F♯", "G", "G♯", "A", "A♯", "B")
STEPS = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
SHIFTS = {"": 0, "#": 1, "♯": 1, "B": -1, "♭": -1}
WRITTEN = re.compile(r"([A-G])([#♯B♭]?)(-?\d)")


def note_name(midi):
    """`E2` for 40; middle C is C4, number 60. Empty for no note."""
    return "" if midi is None else f"{NAMES[midi % 12]}{midi // 12 - 1}"


def midi_of(text):
    """The number of a note written as `E2`, `f#3` or `Bb1`. Raises ValueError, a sentence."""
    found = WRITTEN.fullmatch("".join(text.split()).upper())
    if not found:
        raise ValueError("Write a note with its octave, such as E2, F#3 or Bb1.")
    letter, shift, octave = found.groups()
    midi = STEPS[letter] + SHIFTS[shift] + 12 * (int(octave) + 1)
    if not 0 <= midi <= 127:
        raise ValueError("That note is beyond hearing; middle C is C4.")
    return midi


# String count and family of instrument → tuning's name → notes from string 1, the highest, down.
GUITAR = "E4 B3 G3 D3 A2 E2"
SIX = {
    "usual, E A D G B E": GUITAR,
    "a semitone down": "D#4 A#3 F#3 C#3 G#2 D#2",
    "a tone down": "D4 A3 F3 C3 G2 D2",
    "lowest a tone down, D A D G B E": "E4 B3 G3 D3 A2 D2",
    "D A D G A D": "D4 A3 G3 D3 A2 D2",
    "open D": "D4 A3 F#3 D3 A2 D2",
    "open G": "D4 B3 G3 D3 G2 D2",
    "open E": "E4 B3 G#3 E3 B2 E2",
}
TUNINGS = {
    "guitar": {
        6: SIX,
        7: {"usual, B E A D G B E": GUITAR + " B1"},
        8: {"usual, F♯ B E A D G B E": GUITAR + " B1 F#1"},
        12: {"usual, in pairs": "E4 E4 B3 B3 G4 G3 D4 D3 A3 A2 E3 E2"},
    },
    "bass": {
        4: {
            "usual, E A D G": "G2 D2 A1 E1",
            "a semitone down": "F#2 C#2 G#1 D#1",
            "a tone down": "F2 C2 G1 D1",
            "lowest a tone down, D A D G": "G2 D2 A1 D1",
        },
        5: {"usual, B E A D G": "G2 D2 A1 E1 B0"},
        6: {"usual, B E A D G C": "C3 G2 D2 A1 E1 B0"},
    },
    "other": {
        4: {"G C E A, high G": "A4 E4 C4 G4", "fifths, C G D A": "A4 D4 G3 C3", "fifths, G D A E": "E5 A4 D4 G3"},
        5: {"G D G B D, short fifth string": "D4 B3 G3 D3 G4"},
        8: {"pairs in fifths, G D A E": "E5 E5 A4 A4 D4 D4 G3 G3"},
    },
}


def tunings_for(kind, string_count):
    """{name: midi notes from string 1 on} in use for that kind of instrument; may be empty."""
    group = kind if kind in ("bass", "other") else "guitar"
    named = TUNINGS[group].get(string_count, {})
    return {name: [midi_of(note) for note in notes.split()] for name, notes in named.items()}


def usual_tuning(kind, string_count):
    """The first of them, or None for every string."""
    return next(iter(tunings_for(kind, string_count).values()), [None] * string_count)
