"""When a step that was done is done no longer: what it rested on has changed since.

A step keeps, when it is marked, the values that its work depended on. Comparing them with what holds now needs no
history of events: a value that is put back makes the step good again.
"""

from shop.worksheets.families.parts import BENCH, NUMBERS, RECEIVED
from shop.worksheets.gauges import gauge_for
from shop.worksheets.models import Stage, StepMark, Worksheet
from shop.worksheets.sheet import Sheet

STRINGING = "stringing"


def rests_now(sheet, step):
    """What `step` rests on, as it stands: {'relief': 0.2, 'height_12:6': 1.8, 'stringing': 'through'}.

    As-left readings say how it left; they do not upset the steps before them.
    """
    before = sheet.only(RECEIVED, BENCH)
    found = {}
    for key in step.rests_on:
        if key == STRINGING:
            found[key] = sheet.stringing
            continue
        for string in (None, *sheet.numbers):
            value = before.value(key, string)
            if value is not None:
                found[key if string is None else f"{key}:{string}"] = value
    return found


def changes(sheet, mark, step):
    """Sentences that say what changed under `step` since it was marked; empty when it still stands."""
    now = rests_now(sheet, step)
    keys = [*mark.rested_on, *(key for key in now if key not in mark.rested_on)]
    return [said for key in keys if (said := _change(sheet, key, mark.rested_on.get(key), now.get(key)))]


def _change(sheet, key, then, now):
    if then == now:
        return ""
    if key == STRINGING:
        return f"The strings are now {'wrapped over the tailpiece' if now == 'wrapped' else 'through the tailpiece'}."
    name, _, string = key.partition(":")
    field = sheet.family.any_field(name)
    label = (field.label if field else name) + (f" of string {string}" if string else "")
    if then is None or now is None:
        return f"The reading '{label}' was {'taken' if then is None else 'withdrawn'} afterwards."
    if field and field.unit in NUMBERS and abs(now - then) <= _noise(sheet, field, name, string):
        return ""
    return f"The reading '{label}' has changed."


def _noise(sheet, field, name, string):
    """Two readings with one gauge may differ by this much and mean the same."""
    reading = sheet.now(name, int(string) if string else None)
    gauge = gauge_for(reading.gauge if reading else "", field)
    return gauge.expanded if gauge else 0.0


def _take_over(sheet, mark, step):
    """Somebody reads again in a step that is done: it rests on the new values of its own fields from now on."""
    own = {field.key for field in step.fields}
    taken = {key: value for key, value in rests_now(sheet, step).items() if key.partition(":")[0] in own}
    if not taken.items() <= mark.rested_on.items():
        mark.rested_on |= taken
        StepMark.objects.filter(pk=mark.pk).update(rested_on=mark.rested_on)


def refresh_after(worksheet, reading):
    """The same as `refresh` once `reading` is stored, which few readings need: most come before what rests on them."""
    family = worksheet.family_plan
    if reading.stage == Stage.LEFT or family is None:
        return ()
    concerned = [step.key for step in family.steps if step.key == reading.step or reading.key in step.rests_on]
    if not worksheet.marks.filter(step__in=concerned, state="done").exists():
        return ()
    return refresh(Sheet.load_readings(Worksheet.objects.get(pk=worksheet.pk)), but=reading.step)


def refresh(sheet, *, but=""):
    """Write on every mark whether it is stale and why; return the keys of the steps that became stale.

    `but` is the step in which somebody is working: its own readings do not upset it.
    """
    became = []
    for step in sheet.family.steps if sheet.family else ():
        mark = sheet.marks.get(step.key)
        if mark is None or mark.state != "done":
            continue
        if step.key == but:
            _take_over(sheet, mark, step)
            continue
        because = " ".join(changes(sheet, mark, step))[:600]
        if because != mark.stale_because:
            if because and not mark.stale_because:
                became.append(step.key)
            mark.stale_because = because
            StepMark.objects.filter(pk=mark.pk).update(stale_because=because)
    return tuple(became)
