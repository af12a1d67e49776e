"""The steps that most families share. Their order is each family's own affair."""

from shop.worksheets.families import fields as f
from shop.worksheets.families.parts import Field, Step

TENSION = "Strings are under tension: wear eye protection, and cut only slack strings."
DUST = "Dust of nut, bone and shell: wear a mask and catch the dust."
NECK_READINGS = ("relief", "nut_gap")


def inspect_step(*fields, checks, drawings=("neck",)):
    """As received. `fields` besides relief, nut and height."""
    return Step(
        "inspect", "As received: look, and read before anything is touched",
        do="Tune to the customer's pitch and read everything as it came. Turn nothing yet.",
        cautions=(TENSION,),
        fields=tuple(
            f.received(one)
            for one in (*f.ROOM, f.needed(f.RELIEF), f.NUT_GAP, f.needed(f.HEIGHT_12, required_on="outer"), *fields)
        ),
        checks=("as_received", "relief", "nut_gap", "height_12", *checks),
        drawings=drawings,
        why_order="Once something is turned, nobody can say how it came.",
    )  # fmt: skip


def strings_step(*, do, extra=()):
    return Step(
        "strings", "Strings on, stretched and at pitch",
        do=do,
        cautions=(TENSION, *extra),
        fields=(
            f.yes_no("strings_fitted", "agreed strings fitted"),
            f.yes_no("strings_stretched", "stretched, and they hold pitch"),
        ),
        checks=("strings_fitted", "strings_stretched", "load", "load_change"),
        why_order="Every later reading is taken with these strings at this pitch.",
    )  # fmt: skip


RELIEF = Step(
    "relief", "Neck relief",
    do="Turn the truss rod a little at a time, tune to pitch, read again.",
    cautions=("A rod that resists is not forced: stop, and ask.",),
    fields=(f.RELIEF, f.yes_no("rod_turns", "the rod turns freely", required=False)),
    checks=("relief", "rod_turns"),
    drawings=("neck",),
    why_order="Relief changes the height at every fret, so it comes before nut and bridge.",
    rests_on=("strings_fitted",),
)  # fmt: skip

NUT = Step(
    "nut", "Nut slots",
    do="Hold each string at fret 3 and read the gap over fret 1. Lower a slot in small strokes, falling to the tuner.",
    cautions=(DUST, "A slot cut too low needs filling or a new nut: leave the last hundredths."),
    fields=(f.needed(f.NUT_GAP),),
    checks=("nut_gap",),
    drawings=("neck",),
    why_order="A high slot reads as height at the first frets, whatever the bridge does.",
    rests_on=("relief",),
)  # fmt: skip


def height_step(title, *, do, cautions, extra=(), every_string=False):
    """String height. `extra` are further fields; `every_string` where each has an adjuster of its own."""
    return Step(
        "height", title,
        do=do,
        cautions=cautions,
        fields=(f.needed(f.HEIGHT_12, required_on="all" if every_string else "outer"), *extra),
        checks=("height_12",),
        drawings=("neck", "buzz"),
        why_order="Height comes before the angle behind it and before intonation: it changes both.",
        rests_on=(*NECK_READINGS, "strings_fitted"),
    )  # fmt: skip


EVERY_STRING = "Read every string at fret 12, not only the outer two, and compare the crests with the board's radius."


def arch_step(title="Arch of the saddles", *, do=EVERY_STRING, cautions=None):
    """How the crests follow the board; by cutting slots unless `do` and `cautions` say how else."""
    return Step(
        "arch", title,
        do=do,
        cautions=cautions or ("A slot can be cut lower, never higher: cut last, and little.", DUST),
        fields=(f.HEIGHT_12,),
        checks=("arch",),
        drawings=("arch",),
        why_order="Both sides shift the whole arch, so its shape is judged once they are set.",
        rests_on=NECK_READINGS,
    )  # fmt: skip


def angle_step(*, do, cautions=(), extra=(), checks=("break_angle",)):
    """The angle behind the crest where nothing can be turned."""
    return Step(
        "tail", "Angle behind the crest",
        do=do,
        cautions=cautions,
        fields=(f.CREST_BASS, f.CREST_TREBLE, *extra),
        checks=checks,
        drawings=("bridge_side",),
        why_order="It follows from the height of the crests, so it is looked at once they are set.",
        rests_on=("height_12",),
    )  # fmt: skip


def intonation_step(*, do, cautions=(), fields=(), rests_on=()):
    checks = ("octave", "saddle_travel") if f.ROOM_BACK in fields else ("octave",)
    return Step(
        "intonation", "Intonation, string by string",
        do=do,
        cautions=(*cautions, TENSION),
        fields=(f.OCTAVE, *fields),
        checks=checks,
        drawings=("saddles", "octave", "cents") if f.ROOM_BACK in fields else ("octave", "cents"),
        why_order="Height, relief and nut change how far a fretted string is stretched: the octave comes after them.",
        rests_on=(*NECK_READINGS, "height_12", *rests_on),
    )  # fmt: skip


ELECTRICS = Step(
    "electrics", "Pickups, electrics, hardware",
    do="Hold the outer strings at the last fret and read string to pickup. Try every switch, control and socket; "
    "check screws, tuners and strap buttons.",
    cautions=(
        "Soldering: ventilate.",
        "Mains equipment and valve amplifiers hold lethal voltage, even unplugged: a qualified person only.",
        "Lithium cells: do not short, pierce or heat them.",
    ),
    fields=(
        *(
            Field(f"pickup_{place}_{side}", f"{place} pickup, {side} side", gauges=f.FINE_HEIGHT, high=20)
            for place in ("neck", "bridge") for side in ("bass", "treble")
        ),
        f.yes_no("electrics_work", "switches, controls and socket work", required=False),
        f.yes_no("hardware_tight", "screws, tuners and buttons tight"),
    ),
    checks=("electrics_work", "hardware_tight"),
    why_order="Pickup height is read from the strings, so the strings lie where they will stay.",
    rests_on=("height_12",),
)  # fmt: skip

HARDWARE = Step(
    "electrics", "Hardware, and electrics if any",
    do="Check tuners, screws and strap buttons, braces and top; try pickup and socket where there are any.",
    cautions=("Soldering: ventilate.", "Lithium cells: do not short, pierce or heat them."),
    fields=(
        f.yes_no("electrics_work", "pickup and socket work", required=False),
        f.yes_no("hardware_tight", "screws, tuners and buttons tight"),
    ),
    checks=("electrics_work", "hardware_tight"),
    why_order="What rattles is found before every fret is played.",
)  # fmt: skip


def play_step(*seats):
    """Play every fret. `seats` are further yes-or-no fields, what to look at on this family's bridge."""
    return Step(
        "play", "Play every fret of every string",
        do="Tune, then play every fret of every string, and bend the upper ones. Look once more at bridge and tail.",
        fields=(f.FRET_PLAY, f.note_field("play_note", "where, if not clean"), *seats),
        checks=("fret_play", *(one.key for one in seats)),
        drawings=("buzz",),
        why_order="What the readings cannot show, the ear does.",
        rests_on=(*NECK_READINGS, "height_12"),
    )  # fmt: skip


def left_step(*fields, checks, rests_on=()):
    """As left. `fields`, `checks` and `rests_on` besides those of relief, nut and height."""
    measured = (f.needed(f.RELIEF), f.NUT_GAP, f.needed(f.HEIGHT_12, required_on="outer"), *fields)
    return Step(
        "left", "As left: read everything again, and clean",
        do="Tune, read everything once more just as it leaves, then clean strings, board and body.",
        cautions=(
            "Finishing sprays and cleaners: flammable and harmful; follow the maker's safety sheet, and ventilate. "
            "Old finishes may not bear them.",
        ),
        fields=(
            *(f.left(one) for one in measured), f.yes_no("cleaned", "cleaned, and tuned to pitch", stage="left"),
        ),
        checks=("as_left", "relief", "nut_gap", "height_12", *checks, "cleaned"),
        drawings=("compare",),
        why_order="These readings go on the handover sheet, and are where next year begins.",
        rests_on=(*(one.key for one in measured), *rests_on),
        can_skip=False,
    )  # fmt: skip
