"""The checks of the worksheet. Each takes a `Bench` and gives a list of findings; adding one is adding it here."""

from shop.worksheets.checks.height import arch, height_12
from shop.worksheets.checks.load import load
from shop.worksheets.checks.neck import nut_gap, relief
from shop.worksheets.checks.places import required_readings
from shop.worksheets.checks.plain import fret_play, yes_or_no
from shop.worksheets.checks.saddle import octave, saddle_direction, saddle_travel
from shop.worksheets.checks.studs import stud_difference, stud_window
from shop.worksheets.checks.tail import break_angle, edge_clearance

CHECKS = (
    required_readings, yes_or_no, load, relief, nut_gap, height_12, arch, break_angle, edge_clearance, stud_window,
    stud_difference, saddle_direction, saddle_travel, octave, fret_play,
)  # fmt: skip
# What findings may be called in `Finding.check`, besides the keys of questions answered with yes or no.
KNOWN_CHECKS = frozenset({
    "as_received", "as_left", "load", "load_change", "relief", "nut_gap", "height_12", "arch", "break_angle",
    "edge_clearance", "stud_window", "stud_difference", "saddle_direction", "saddle_travel", "octave", "fret_play",
})  # fmt: skip
