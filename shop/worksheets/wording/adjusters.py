"""What the adjusters of the families are called, and how their moves are said."""

from dataclasses import dataclass

from shop.worksheets.wording.moves import LEAST_MM, amount, sentence


@dataclass(frozen=True)
class EndWords:
    """Two ends: their names, that of both, and what plus and minus are called."""

    bass: str
    treble: str
    both: str
    plus: str
    minus: str


HEIGHT_ENDS = {
    "posts": EndWords("bass post", "treble post", "both posts", "up", "down"),
    "studs": EndWords("bass stud", "treble stud", "both studs", "up", "down"),
    "bottom": EndWords(
        "the saddle's bass end", "the saddle's treble end", "the whole saddle", "up by a shim of", "down by filing off"
    ),
}
ALONG_ENDS = {
    "set_screws": EndWords("bass set screw", "treble set screw", "both set screws", "in", "out"),
    "bridge_ends": EndWords("bass end of the bridge", "treble end of the bridge", "the whole bridge", "back",
                            "forward"),
}  # fmt: skip


def ends(said, words, bass_mm, treble_mm, pitch):
    """'Bass post down 0.35 mm (1/2 turn), treble post up 0.10 mm (1/8 turn).'; '' when nothing is worth moving."""
    named = [(words.bass, bass_mm), (words.treble, treble_mm)]
    if abs(bass_mm) >= LEAST_MM and abs(bass_mm - treble_mm) < LEAST_MM:
        named = [(words.both, bass_mm)]
    parts = [
        f"{name} {words.plus if mm > 0 else words.minus} {amount(said, mm, pitch)}"
        for name, mm in named
        if abs(mm) >= LEAST_MM
    ]
    return sentence(", ".join(parts))


STUDS = HEIGHT_ENDS["studs"]


def own_height(said, number, mm, pitch):
    """A saddle with height screws of its own."""
    if abs(mm) < LEAST_MM:
        return ""
    way = "up" if mm > 0 else "down"
    return f"The saddle of string {number} {way} {amount(said, mm, pitch)}, its height screws alike."


TOP_ENDS = "What the saddle's thickness does not allow needs a thicker saddle or another slot."


def own_top(said, mm):
    """A crest that is shaped with the file on top of the saddle."""
    if abs(mm) < LEAST_MM:
        return ""
    way, side = ("back", "front") if mm > 0 else ("forward", "rear")
    stands = f"{amount(said, mm, None)} further {way}"
    return f"Shape the saddle's top so that this crest stands {stands}: file its {side} side."
