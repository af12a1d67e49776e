"""Named profiles of targets. The starting ones are common practice, no source; the shop edits them as it likes."""

from django.db import transaction

from shop.instruments.kinds import Kind
from shop.worksheets.models import TargetProfile, TargetRange

# (key, label, unit); the order is that of the owner's screen.
TARGETS = (
    ("relief", "relief", "mm"),
    ("height_12_bass", "height at 12, lowest string", "mm"),
    ("height_12_treble", "height at 12, highest string", "mm"),
    ("nut_gap", "nut: gap at fret 1, string held at fret 3", "mm"),
    ("arch", "one string against the board's arch, at the crest", "mm"),
    ("break_angle", "break angle over the crest", "deg"),
    ("break_angle_plate", "break angle on a plate, a block or a wrapped casting", "deg"),
    ("edge_clearance", "clearance over the bridge's rear edge", "mm"),
    ("stud_difference", "difference between studs", "mm"),
    ("octave", "octave", "cents"),
)
KEYS = tuple(key for key, _, _ in TARGETS)

ELECTRIC = {
    "relief": (0.10, 0.30), "height_12_bass": (1.6, 2.1), "height_12_treble": (1.2, 1.7), "nut_gap": (0.05, 0.25),
    "arch": (-0.25, 0.25), "break_angle": (6.0, 17.0), "break_angle_plate": (8.0, 45.0),
    "edge_clearance": (0.4, None), "stud_difference": (None, 1.0), "octave": (-1.5, 1.5),
}  # fmt: skip
STEEL = {
    "relief": (0.15, 0.35), "height_12_bass": (2.2, 2.8), "height_12_treble": (1.6, 2.2), "nut_gap": (0.10, 0.30),
    "arch": (-0.25, 0.25), "break_angle": (15.0, 40.0), "octave": (-3.0, 3.0),
}  # fmt: skip
BASS = {
    "relief": (0.20, 0.45), "height_12_bass": (2.0, 2.8), "height_12_treble": (1.6, 2.3), "nut_gap": (0.10, 0.35),
    "arch": (-0.3, 0.3), "break_angle": (6.0, 25.0), "break_angle_plate": (8.0, 45.0),
    "edge_clearance": (0.5, None), "stud_difference": (None, 1.0), "octave": (-3.0, 3.0),
}  # fmt: skip
NYLON = {
    "relief": (0.10, 0.40), "height_12_bass": (3.2, 4.0), "height_12_treble": (2.6, 3.2), "nut_gap": (0.15, 0.40),
    "arch": (-0.25, 0.25), "break_angle": (15.0, 40.0), "octave": (-4.0, 4.0),
}  # fmt: skip
USUAL = {
    Kind.ELECTRIC: ("Electric, usual", ELECTRIC),
    Kind.STEEL: ("Steel acoustic, usual", STEEL),
    Kind.BASS: ("Bass, usual", BASS),
    Kind.NYLON: ("Nylon, usual", NYLON),
    Kind.ARCHTOP: ("Archtop, usual", {**ELECTRIC, "octave": (-3.0, 3.0)}),
    Kind.OTHER: ("Other, usual", ELECTRIC),
}


@transaction.atomic
def ensure_usual_profiles():
    """Make the starting profile of every kind that has no usual one. Running it again changes nothing."""
    have = set(TargetProfile.objects.filter(is_usual=True).values_list("kind", flat=True))
    for kind, (name, ranges) in USUAL.items():
        if kind.value in have:
            continue
        profile, made = TargetProfile.objects.get_or_create(name=name, defaults={"kind": kind, "is_usual": True})
        if made:
            TargetRange.objects.bulk_create(
                TargetRange(profile=profile, key=key, low=low, high=high) for key, (low, high) in ranges.items()
            )


def usual_for(kind):
    """The shop's usual profile of a kind; the starting ones are made when the shop has none."""
    found = TargetProfile.objects.filter(kind=kind, is_usual=True).first()
    if found is None:
        ensure_usual_profiles()
        found = TargetProfile.objects.filter(kind=kind).order_by("-is_usual", "name").first()
    return found or TargetProfile.objects.get(name=USUAL[Kind.ELECTRIC][0])


def usual_targets(kind):
    """The targets of the shop's usual profile of a kind. One query where there is one."""
    ranges = TargetRange.objects.filter(profile__kind=kind, profile__is_usual=True)
    return {one.key: [one.low, one.high] for one in ranges} or targets_of(usual_for(kind))


def targets_of(profile):
    """The snapshot that a worksheet keeps: key → [low, high], None for an open end."""
    return {one.key: [one.low, one.high] for one in profile.ranges.all()}
