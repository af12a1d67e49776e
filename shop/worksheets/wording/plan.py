"""Words of the plan: moves said once for all strings, and what will not work."""

from shop.worksheets.wording.said import listed

LOOSE_ROD = (
    "More bow comes from a rod that is still tight: one that is slack already has nothing to give, and heavier strings "
    "or work on the neck are what is left."
)
ROD_STUCK = "The truss rod does not turn freely, and a rod that resists is not forced."
NO_ROD = "The record says that the rod has no way left, or that there is none."
SLOT_WHY = "A slot can be cut, never raised: fill and cut it again, or make a new nut."
REACH_WHY = "Better known before the strings come off than after."
EMPTY_WHY = "Every string must bend enough over its crest and still clear the bridge's rear edge."
ANGLE_WHY = "Nothing can be turned there, so only what makes the angle can change it."
ARCH_WHY = "A slot can be cut lower, never higher, and no cut of the others makes this one right."
AHEAD = (
    "Counted: where the saddles will stand once their octaves are right. The step itself judges them where they are."
)
AGAIN = "The saddles have moved under the strings: the tailpiece follows."
COUNTED = "Counted: what rod, nut and bridge before it do to this reading."
PREDICTED = "What is mended is the octave read, with what the moves before it change: a prediction, read it again."
TITLES = {
    "rod": "Neck relief", "nut": "Nut slots", "height": "String height", "arch": "Arch of the crests",
    "tail": "Tailpiece", "along": "Intonation", "tail_again": "Tailpiece once more",
}  # fmt: skip


def by_string(pairs):
    """['Strings 6 and 5: lower the slot by 0.10 mm.', …]: one sentence for all strings of which the same is said."""
    said = {}
    for string, text in pairs:
        said.setdefault(text, []).append(string)
    return [
        f"{'Strings' if len(strings) > 1 else 'String'} {listed(strings)}: {text[:1].lower()}{text[1:]}"
        for text, strings in said.items()
    ]


def cut_slots(cuts):
    return f"Cut the slot of {cuts}."


def slots_too_low(numbers):
    return f"{_slots(numbers)} too low in the nut: filing cannot mend that."


def _slots(numbers):
    return f"The slots of strings {listed(numbers)} are" if len(numbers) > 1 else f"The slot of string {numbers[0]} is"


def crests_too_low(numbers):
    return f"{_slots(numbers)} too low in the bridge, and no cut of the others makes up for it."


def relief_far(said, wanted, reach):
    return f"Relief would have to change by {said.length(abs(wanted))}, and the rod changes it by {said.length(reach)}."


def relief_stuck(said, wanted):
    return f"Relief would have to change by {said.length(abs(wanted))}, and the rod does not do it."


def relief_up(said, wanted):
    return f"The neck needs {said.length(abs(wanted))} more bow."


def short(said, pairs):
    """`pairs`: (string, mm) of saddles that cannot reach even turned round."""
    each = listed(f"string {number} by {said.length(mm)}" for number, mm in pairs)
    return f"Saddles that will not reach their octave: {each} short."


def angle_stays(said, pairs):
    each = listed(f"string {number} {said.value(value, 'deg')}" for number, value in pairs)
    return f"After all moves the break angle is still out of its range: {each}."
