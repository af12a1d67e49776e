"""The checks of the worksheet. Each takes a `Bench` and gives a list of findings; adding one is adding it here."""

from shop.worksheets.checks.places import required_readings
from shop.worksheets.checks.plain import fret_play, yes_or_no

CHECKS = (required_readings, yes_or_no, fret_play)
