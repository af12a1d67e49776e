"""Pitch: equal temperament, cents, and the names of notes."""

import re

import numpy as np

from geometry.errors import GeometryError, as_numbers, as_positive

__all__ = ["cents_between", "frequency_hz", "midi_from_hz", "midi_from_name", "ratio_from_cents", "tuning_midi"]

SEMITONES = {"C": 0, "D": 2, "E": 4, "F": 5, "G": 7, "A": 9, "B": 11}
ACCIDENTALS = {"": 0, "#": 1, "♯": 1, "b": -1, "♭": -1}
NAME = re.compile(r"([A-Ga-g])([#♯b♭]?)(-1|\d)")


def frequency_hz(midi_note, *, reference_hz=440.0):
    """Frequency of a note in equal temperament. Elementwise.

    ``f = reference · 2^((m − 69)/12)``, m = 69 being A4. Source: ISO 16:1975 for A4 = 440 Hz; the rest is the
    definition of equal temperament.

    Parameters
    ----------
    midi_note : array_like
        Note number, fractions allowed; NaN gives NaN.
    reference_hz : array_like
        Frequency of A4, above 0 [Hz].

    Returns
    -------
    numpy.ndarray or float
        Frequency [Hz].

    Examples
    --------
    >>> frequency_hz([40, 45, 64]).round(2).tolist()
    [82.41, 110.0, 329.63]
    >>> float(frequency_hz(69, reference_hz=432))
    432.0
    """
    note = as_numbers("midi_note", midi_note)
    return as_positive("reference_hz", reference_hz) * np.exp2((note - 69.0) / 12.0)


def midi_from_hz(frequency_hz, *, reference_hz=440.0):
    """Note number of a frequency, with its fraction: the inverse of `frequency_hz`. Elementwise.

    Parameters
    ----------
    frequency_hz : array_like
        Above 0 [Hz]; NaN gives NaN.
    reference_hz : array_like
        Frequency of A4, above 0 [Hz].

    Returns
    -------
    numpy.ndarray or float
        Note number; a hundredth of it is a cent.

    Examples
    --------
    >>> float(midi_from_hz(110.0))
    45.0
    """
    frequency = as_positive("frequency_hz", frequency_hz)
    return 69.0 + 12.0 * np.log2(frequency / as_positive("reference_hz", reference_hz))


def cents_between(frequency_hz, from_hz):
    """Interval from one frequency up to another. Elementwise.

    ``1200 · log2(frequency / from)``, by definition of the cent.

    Parameters
    ----------
    frequency_hz, from_hz : array_like
        Above 0 [Hz]; NaN gives NaN.

    Returns
    -------
    numpy.ndarray or float
        Positive where `frequency_hz` is the sharper [cents].

    Examples
    --------
    >>> float(cents_between(501.5, 500.0).round(4))
    5.1859
    """
    return 1200.0 * np.log2(as_positive("frequency_hz", frequency_hz) / as_positive("from_hz", from_hz))


def ratio_from_cents(interval_cents):
    """Frequency ratio of an interval, ``2^(c/1200)``. Elementwise.

    Parameters
    ----------
    interval_cents : array_like
        Interval, up positive [cents]; NaN gives NaN.

    Returns
    -------
    numpy.ndarray or float
        Ratio, above 0.

    Examples
    --------
    >>> float(ratio_from_cents(1200))
    2.0
    """
    return np.exp2(as_numbers("interval_cents", interval_cents) / 1200.0)


def midi_from_name(name):
    """Note number of a name in scientific pitch notation, C4 being middle C, number 60.

    Parameters
    ----------
    name : str
        Letter, accidental if any (``#``, ``b`` or the signs themselves), octave −1 to 9.

    Returns
    -------
    int
        Note number.

    Examples
    --------
    >>> [midi_from_name(one) for one in ("E2", "F#3", "Bb1", "C4")]
    [40, 54, 34, 60]
    """
    found = NAME.fullmatch(name.strip()) if isinstance(name, str) else None
    if not found:
        raise GeometryError("name", name, "a note with its octave, such as E2, F#3 or Bb1")
    letter, accidental, octave = found.groups()
    return 12 * (int(octave) + 1) + SEMITONES[letter.upper()] + ACCIDENTALS[accidental]


def tuning_midi(names):
    """Note numbers of a tuning, from the bass side to the treble side.

    Source: scientific pitch notation, C4 being MIDI note 60.

    Parameters
    ----------
    names : str or sequence of str
        Notes, or one text with blanks between them.

    Returns
    -------
    numpy.ndarray
        Per string, shape (strings,), floats so that a missing string may become NaN.

    Examples
    --------
    >>> tuning_midi("E2 A2 D3 G3 B3 E4").tolist()
    [40.0, 45.0, 50.0, 55.0, 59.0, 64.0]
    """
    notes = names.split() if isinstance(names, str) else list(names)
    if not notes:
        raise GeometryError("names", names, "at least one note")
    return np.array([midi_from_name(one) for one in notes], dtype=float)
