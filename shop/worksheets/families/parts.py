"""What a bridge family is made of: steps, and the fields to read in each."""

from dataclasses import dataclass
from functools import cached_property

MM, DEG, CENTS, CHOICE, YES_NO, TEXT = "mm", "deg", "cents", "choice", "yes_no", "text"
PERCENT, CELSIUS = "percent", "celsius"
NUMBERS = (MM, DEG, CENTS, PERCENT, CELSIUS)
SHEET, STRING = "sheet", "string"
RECEIVED, BENCH, LEFT = "received", "bench", "left"


@dataclass(frozen=True)
class Field:
    """One thing to read.

    `per` is 'sheet' (once) or 'string' (once a string). `required_on` narrows a required field to the 'outer'
    strings. `target_key` names the range in the profile. `gauges` are the usual ones, best first. `choices` are
    (code, label) pairs; a reading's value is the index of its choice, and 1 or 0 for yes or no. `low` and `high`
    bound what is believable, not what is wanted.
    """

    key: str
    label: str
    unit: str = MM
    per: str = SHEET
    stage: str = BENCH
    required: bool = False
    required_on: str = "all"
    target_key: str = ""
    gauges: tuple = ()
    choices: tuple = ()
    help: str = ""
    low: float = 0.0
    high: float = 100.0

    @property
    def is_number(self):
        return self.unit in NUMBERS


@dataclass(frozen=True)
class Place:
    """Where one reading goes: a field of a step, and its string when it is read once a string."""

    step: str
    field: Field
    string: int | None
    required: bool

    @property
    def stage(self):
        return self.field.stage

    @property
    def key(self):
        return self.field.key


@dataclass(frozen=True)
class Step:
    """One step of the worksheet.

    `checks` are the checks whose findings belong on this step, `drawings` the drawings. `rests_on` are reading keys
    (or 'stringing') that the step's work depends on: when one of them changes after the step was done, it is stale.
    """

    key: str
    title: str
    do: str
    cautions: tuple = ()
    fields: tuple = ()
    checks: tuple = ()
    drawings: tuple = ()
    why_order: str = ""
    rests_on: tuple = ()
    can_skip: bool = True


@dataclass(frozen=True)
class Adjuster:
    """What one turns, files or pushes to move the crests.

    `form` is 'ends' (two of them, each string moving by the lever) or 'strings' (one a string). `words` names it in
    `wording.adjusters`. `span_key` is the specification's distance between the ends, `thread` the record's thread.
    """

    form: str
    words: str
    span_key: str = ""
    thread: str = ""


ENDS, STRINGS = "ends", "strings"
POSTS = Adjuster(ENDS, "posts", span_key="post_span_mm", thread="post")
SADDLES = Adjuster(STRINGS, "saddles", thread="saddle")
# How a tail is held: turned on studs, where it is, or as a round behind the crest that goes up and down with it.
STUDS, FIXED, WRAP = "studs", "fixed", "wrap"


@dataclass(frozen=True)
class Family:
    """A bridge family: its steps in order, and what moves its crests.

    `tail` is 'studs', 'fixed', 'wrap' or '' (the angle behind the crest is not asked). `tail_spec` are the record's
    run from the crest to the string's exit and its height there, for a fixed tail, and run, drop below the crest and
    radius for a wrap; `angle_target` is the profile's range for the angle; `has_edge` says that a string may touch the
    bridge's rear edge; `own_heights` that single saddles have height screws besides. `steeper` and `shallower` say what
    changes the angle where there is nothing to turn.
    """

    key: str
    steps: tuple
    height: Adjuster = POSTS
    along: Adjuster = SADDLES
    tail: str = STUDS
    tail_spec: tuple = ()
    angle_target: str = "break_angle"
    has_edge: bool = True
    own_heights: bool = False
    steeper: str = ""
    shallower: str = ""

    @cached_property
    def steps_of_checks(self):
        """Check → keys of the steps that show its findings, in order."""
        found = {}
        for step in self.steps:
            for check in step.checks:
                found.setdefault(check, []).append(step.key)
        return found

    @cached_property
    def home_of_checks(self):
        """Check → the step on which it is mended: neither the first nor the last look at everything."""
        looks = (self.steps[0].key, self.steps[-1].key)
        return {
            check: next((key for key in keys if key not in looks), keys[0])
            for check, keys in self.steps_of_checks.items()
        }

    @cached_property
    def by_key(self):
        return {step.key: step for step in self.steps}

    def step(self, key):
        return self.by_key.get(key)

    def field(self, step_key, key, stage):
        """The field that a reading names, or None."""
        step = self.step(step_key)
        found = [one for one in step.fields if one.key == key and one.stage == stage] if step else []
        return found[0] if found else None

    def any_field(self, key):
        """Some field with this key, whichever step reads it."""
        return self.fields_by_key.get(key)

    @cached_property
    def fields_by_key(self):
        return {one.key: one for step in reversed(self.steps) for one in step.fields}

    def places(self, strings, step=None):
        """Every place to read, in order. `strings` are the string numbers, bass to treble."""
        asked = (strings, step)
        if asked not in self._places:
            steps = self.steps if step is None else (self.by_key[step],)
            places = (place for one in steps for field in one.fields for place in _places(one, field, strings))
            self._places[asked] = tuple(places)
        return self._places[asked]

    @cached_property
    def _places(self):
        """What `places` answered: as many as there are steps and numbers of strings."""
        return {}


def _places(step, field, strings):
    if field.per == SHEET:
        return [Place(step.key, field, None, field.required)]
    outer = {strings[0], strings[-1]}
    return [
        Place(step.key, field, number, field.required and (field.required_on == "all" or number in outer))
        for number in strings
    ]
