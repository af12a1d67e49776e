"""Questions answered with yes or no, and the playing of every fret."""

from shop.worksheets.families.parts import YES_NO
from shop.worksheets.findings import IN_RANGE, OUT_OF_RANGE, Finding

PLAYED = {
    "clean": (IN_RANGE, "clean at every fret."),
    "buzz": (OUT_OF_RANGE, "it buzzes somewhere."),
    "dead": (OUT_OF_RANGE, "it chokes or rings dead somewhere."),
}


def yes_or_no(bench):
    """One finding for each question that was answered."""
    asked = {(field.key, step.key): field for step in bench.sheet.family.steps for field in step.fields
             if field.unit == YES_NO}  # fmt: skip
    return [
        _answered(field, step, bench.sheet.value(key))
        for (key, step), field in asked.items()
        if bench.sheet.value(key) is not None
    ]


def _answered(field, step, value):
    yes = value == 1.0
    return Finding(
        key=field.key, step=step, string=None, check=field.key, verdict=IN_RANGE if yes else OUT_OF_RANGE, value=value,
        unit=field.unit, headline=f"{field.label[:1].upper()}{field.label[1:]}: {'yes' if yes else 'no'}.",
        why="" if yes else field.help,
    )  # fmt: skip


def fret_play(bench):
    """One finding a string that was played."""
    field = bench.sheet.family.any_field("fret_play")
    if field is None:
        return []
    found = []
    for number in bench.sheet.numbers:
        value, code = bench.sheet.value("fret_play", number), bench.sheet.choice("fret_play", number)
        if code is None:
            continue
        verdict, said = PLAYED[code]
        found.append(Finding(
            key=f"fret_play:{number}", step="play", string=number, check="fret_play", verdict=verdict, value=value,
            unit=field.unit, headline=f"String {number}, every fret played: {said}",
            why="" if verdict == IN_RANGE else "The player will hear it.",
        ))  # fmt: skip
    return found
