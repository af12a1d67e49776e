"""The geometry and mechanics of setting up a fretted instrument: arrays in, arrays and frozen dataclasses out.

Frames, millimetres
    *Fret frame*: x from the nut's front edge towards the bridge along the centre line (along each string for
    its own lengths: the difference is below 0.1 mm); z up from the plane through the crowns of the first and the
    last fret at the middle of the board; y across, positive to the treble side.
    *Body frame* at the bridge: x from a string's crest towards the tail, z up from the top.

Units stand in the names
    ``_mm``, ``_rad``, ``_deg``, ``_hz``, ``_n`` newtons, ``_cents``, ``_kg_per_m``, ``_kg_per_m3``, ``_pa``,
    ``_n_m2``, ``_mm_per_turn``. A name without one is a pure number: a fret number, a count, a ratio, a weight.
    Text with units is read and written by `geometry.units` and nowhere else.

Shapes
    A *per-string* array has the strings on its last axis, from the bass side to the treble side: index 0 is the
    lowest string and lateral positions rise. Handedness therefore never enters. A *per-instrument* value has
    the leading axes only: beside per-string arrays of shape (batch, strings) it has shape (batch,) or ().
    A function whose docstring says *elementwise* broadcasts its arguments as numpy does.
    Every function works for one instrument or for any number of them on leading axes.

Missing values
    NaN is a string that is not there or a reading that was not taken. It flows to NaN in what depends on it and
    no further: a sum or a fit over strings leaves it out, and is NaN only when nothing is left.

Errors
    A bad argument raises `geometry.errors.GeometryError`, which names the argument, its value and what is
    allowed. Arguments are never changed. Options are keyword-only.
"""
