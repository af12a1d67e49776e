"""One worksheet as plain data: what is read where, what holds now, what was decided. Loaded in three small queries.

Checks and screens ask the sheet; they never touch the database themselves.
"""

import math
from dataclasses import dataclass, field, replace
from functools import cached_property

from django.db.models import prefetch_related_objects

from shop.worksheets.families import Family, family_for
from shop.worksheets.families.parts import BENCH, LEFT, RECEIVED
from shop.worksheets.models import Standing

OUTER_TARGETS = {"height_12"}  # targets given for the lowest and the highest string, between them in proportion


@dataclass(frozen=True)
class Readings:
    """Readings in the order in which they were saved: of a whole sheet, or of one place of it."""

    readings: tuple

    @classmethod
    def at(cls, worksheet, place):
        """What was ever read at `place` = (stage, step, key, string)."""
        stage, step, key, string = place
        return cls(tuple(worksheet.readings.filter(stage=stage, step=step, key=key, string=string)))

    def plus(self, reading):
        """The same with one more reading."""
        return replace(self, readings=(*self.readings, reading))

    @cached_property
    def _newest(self):
        return {one.place: one for one in self.readings if one.standing == Standing.HOLDS}

    @cached_property
    def _unreadable(self):
        return {one.place: one for one in self.readings if one.standing == Standing.UNREADABLE}

    def newest(self, place):
        """The reading that stands at `place`, withdrawn or not. Its id is the basis of the next one."""
        return self._newest.get(place)

    def holding(self, place):
        """The reading that holds at `place`, or None when there is none or it was withdrawn."""
        found = self._newest.get(place)
        return None if found is None or is_withdrawn(found) else found

    def unreadable(self, place):
        """What was last typed at `place` and could not be read, unless something readable came after it."""
        typed, stands = self._unreadable.get(place), self._newest.get(place)
        return typed if typed and (stands is None or typed.pk > stands.pk) else None

    def rivals(self, place):
        """Readings of `place` typed elsewhere at the same time, which wait for somebody to choose."""
        return tuple(one for one in self.all_rivals if one.place == place)

    @cached_property
    def all_rivals(self):
        return tuple(one for one in self.readings if one.standing == Standing.RIVAL)


@dataclass(frozen=True, kw_only=True)
class Sheet(Readings):
    """`strings` run from bass to treble; each is the worksheet's own snapshot of one string."""

    family: Family | None
    stringing: str
    strings: tuple
    targets: dict
    spec: dict
    threads: dict
    reference_pitch_hz: float
    marks: dict = field(default_factory=dict)  # step → StepMark
    acceptances: dict = field(default_factory=dict)  # finding key → the newest Acceptance that was not withdrawn
    stages: frozenset = frozenset({RECEIVED, BENCH, LEFT})
    rule: str = "full"  # how far a verdict keeps clear of a limit

    @classmethod
    def load(cls, worksheet):
        """The worksheet as it stands in the database, with everybody who decided something on it."""
        acceptances = worksheet.acceptances.filter(withdrawn_at=None).select_related("by")
        readings = tuple(worksheet.readings.all())
        if any(one.standing == Standing.RIVAL for one in readings):
            prefetch_related_objects(readings, "by")  # whoever chooses wants to know who typed which
        return cls.of(
            worksheet,
            readings=readings,
            marks={mark.step: mark for mark in worksheet.marks.select_related("by")},
            acceptances={one.finding: one for one in acceptances},
        )

    @classmethod
    def load_readings(cls, worksheet):
        """Readings and marks alone, without people."""
        marks = {mark.step: mark for mark in worksheet.marks.all()}
        return cls.of(worksheet, readings=tuple(worksheet.readings.all()), marks=marks)

    @classmethod
    def of(cls, worksheet, *, readings=(), marks=None, acceptances=None):
        """A sheet of `worksheet`'s snapshots with the readings given; asks the database nothing."""
        return cls(
            family=family_for(worksheet.family),
            stringing=str(worksheet.stringing),
            strings=tuple(worksheet.strings),
            targets=worksheet.targets,
            spec=worksheet.spec,
            threads=worksheet.threads,
            reference_pitch_hz=worksheet.reference_pitch_hz,
            rule=str(worksheet.rule),
            readings=tuple(readings),
            marks=marks or {},
            acceptances=acceptances or {},
        )

    def only(self, *stages):
        """The same sheet as if only readings of these stages had been taken."""
        return replace(self, stages=frozenset(stages))

    @cached_property
    def numbers(self):
        """String numbers, bass to treble: 6, 5, 4, 3, 2, 1."""
        return tuple(int(one["number"]) for one in self.strings)

    @property
    def places(self):
        return self.family.places(self.numbers) if self.family and self.numbers else ()

    # What was read

    @cached_property
    def _now(self):
        """What is true now: a reading at the bench or as left outdates one as received, then the newer one holds."""
        held = {}
        for one in self._newest.values():
            if one.stage not in self.stages or is_withdrawn(one):
                continue
            place, rank = (one.key, one.string), (one.stage != RECEIVED, one.pk)
            if place not in held or rank > held[place][0]:
                held[place] = (rank, one)
        return {place: one for place, (_, one) in held.items()}

    def now(self, key, string=None):
        """The reading of `key` (of `string`) that is true of the instrument now, or None."""
        return self._now.get((key, string))

    def value(self, key, string=None):
        """Its value, or None when it was not read or is nothing that its gauge could show."""
        found = self._now.get((key, string))
        return found.value if found and self._is_believable(found) else None

    def _is_believable(self, reading):
        field = self.family.any_field(reading.key)
        return field is not None and reading.value is not None and field.low <= reading.value <= field.high

    def choice(self, key, string=None):
        """The code of what was chosen, or None."""
        value, field = self.value(key, string), self.family.any_field(key)
        choices = field.choices if field else ()
        known = value is not None and value == int(value) and 0 <= value < len(choices)
        return choices[int(value)][0] if known else None

    def series(self, key, string=None):
        """Every reading of `key` that was once held to be true, oldest first: the octave's rounds, for example."""
        return tuple(one for one in self._series.get((key, string), ()) if self._is_believable(one))

    @cached_property
    def _series(self):
        found = {}
        for one in self.readings:
            if one.standing == Standing.HOLDS and one.stage in self.stages:
                found.setdefault((one.key, one.string), []).append(one)
        return found

    # What it should be

    def target(self, target_key, string=None):
        """(low, high) of the profile's snapshot in the reading's unit; None is an open end."""
        if target_key not in OUTER_TARGETS:
            return _range(self.targets.get(target_key))
        bass, treble = (_range(self.targets.get(f"{target_key}_{side}")) for side in ("bass", "treble"))
        if string not in self.numbers or len(self.numbers) < 2:
            return bass
        share = self.numbers.index(string) / (len(self.numbers) - 1)
        return tuple(
            None if low is None or high is None else low + share * (high - low)
            for low, high in zip(bass, treble, strict=True)
        )

    def spec_value(self, key):
        """The specification's value, or None."""
        value = (self.spec.get(key) or {}).get("value")
        return float(value) if isinstance(value, int | float) and math.isfinite(value) else None

    def is_assumed(self, key):
        return bool((self.spec.get(key) or {}).get("assumed"))


def is_withdrawn(reading):
    return reading.value is None and reading.raw == ""


def _range(pair):
    low, high = pair if isinstance(pair, list | tuple) and len(pair) == 2 else (None, None)
    return (low, high)
