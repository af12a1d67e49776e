"""The fields that several families share, each described once."""

from dataclasses import replace

from shop.worksheets.families.parts import CELSIUS, CENTS, CHOICE, LEFT, PERCENT, RECEIVED, STRING, TEXT, YES_NO, Field

FINE_HEIGHT = ("height_gauge", "feeler", "fine_rule", "rule", "calliper", "dial")
DEPTH = ("calliper", "fine_rule", "rule", "dial")
FEELERS = ("feeler", "dial", "calliper")

SEASON = Field(
    "season", "season and room", TEXT, stage=RECEIVED, help="Such as: January, heated room.",
)
HUMIDITY = Field(
    "humidity", "air humidity", PERCENT, gauges=("hygrometer",), low=1,
    help="Of the room in which it is read, if you have it.",
)
TEMPERATURE = Field("temperature", "air temperature", CELSIUS, gauges=("thermometer",), low=-10, high=50)
ROOM = (SEASON, HUMIDITY, TEMPERATURE)
RELIEF = Field(
    "relief", "relief", target_key="relief", gauges=FEELERS, high=6, low=-4,
    help="Gap half-way between the first and the last fret, string or straightedge laid on both. "
    "A neck that bends back reads below zero.",
)
NUT_GAP = Field(
    "nut_gap", "gap at fret 1, held at fret 3", per=STRING, target_key="nut_gap", gauges=FEELERS, high=4,
    help="Hold the string down at the third fret; read the gap over the crown of the first.",
)
HEIGHT_12 = Field(
    "height_12", "height at fret 12", per=STRING, target_key="height_12", gauges=FINE_HEIGHT, high=20,
    help="Open string at pitch: from the crown of fret 12 to the underside of the string.",
)
OCTAVE = Field(
    "octave", "octave at fret 12", CENTS, per=STRING, target_key="octave", gauges=("tuner", "plain_tuner"),
    low=-150, high=150,
    help="Fretted note at fret 12 against the open string's own harmonic there. Sharp is plus.",
)
CREST_BASS = Field(
    "crest_height_bass", "crest above the top, lowest string", gauges=DEPTH, high=60,
    help="From the body's top up to the saddle crest of the lowest string.",
)
CREST_TREBLE = replace(CREST_BASS, key="crest_height_treble", label="crest above the top, highest string",
                       help="From the body's top up to the saddle crest of the highest string.")
STUD_BASS = Field(
    "stud_bass", "tailpiece above the top, bass stud", gauges=DEPTH, high=40,
    help="From the body's top to the underside of the tailpiece, beside the stud.",
)
STUD_TREBLE = replace(STUD_BASS, key="stud_treble", label="tailpiece above the top, treble stud")
CREST_TO_EDGE = Field(
    "crest_to_edge", "crest to rear edge, level", per=STRING, gauges=DEPTH, low=0.2, high=30,
    help="If you can read it; otherwise it is worked out from the specification and the saddle's place.",
)
EDGE_GAP = Field(
    "edge_gap", "gap over the rear edge", per=STRING, gauges=FEELERS, low=0, high=15,
    help="If you can read it: the leaf that just slips between the string and the bridge's rear edge. "
    "Zero when it touches.",
)
FACING = Field(
    "saddle_facing", "saddle faces", CHOICE, per=STRING,
    choices=(("flat_rear", "flat face to the rear"), ("flat_front", "flat face to the front")),
)
ROOM_BACK = Field(
    "saddle_room_back", "saddle can still go back", per=STRING, gauges=DEPTH, high=40,
    help="Along the screw, from where the saddle is to where it stops at the rear.",
)
SCREW_BASS = Field(
    "screw_bass", "bridge stands off its stud, bass side", gauges=DEPTH, high=15,
    help="How far the set screw has pushed the bridge back from its stud.",
)
SCREW_TREBLE = replace(SCREW_BASS, key="screw_treble", label="bridge stands off its stud, treble side")
FRET_PLAY = Field(
    "fret_play", "every fret played", CHOICE, per=STRING, required=True,
    choices=(("clean", "clean at every fret"), ("buzz", "buzzes somewhere"), ("dead", "chokes or rings dead")),
)


def yes_no(key, label, *, required=True, note="", stage="bench"):
    return Field(key, label, YES_NO, required=required, help=note, stage=stage)


def note_field(key, label, *, stage="bench", note=""):
    return Field(key, label, TEXT, stage=stage, help=note)


def needed(field, **changes):
    """The same field, required."""
    return replace(field, required=True, **changes)


def received(field, **changes):
    return replace(field, stage=RECEIVED, **changes)


def left(field, **changes):
    return replace(field, stage=LEFT, **changes)
