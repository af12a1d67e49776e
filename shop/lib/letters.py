"""Letters that no font at hand can show: on paper they are named instead of becoming empty boxes.

The papers' own faces hold the Latin, Greek, Cyrillic and Vietnamese alphabets. What else a machine's fonts show
differs: Debian's DejaVu, which the text libraries bring along, has Hebrew, Arabic and many signs; Chinese, Japanese and
Korean need a package such as fonts-droid-fallback, small pictures one such as fonts-noto-color-emoji.
"""

import re
import unicodedata

FOREIGN = re.compile(r"[^\x00-\u024f]")  # beyond what the papers' own faces hold for certain


def named(text, can_show):
    """`text` with each letter that `can_show(letter)` denies named in its place: `[guitar]`, `[U+6F22]`."""
    missing = {letter: _name(letter) for letter in unshown(text, can_show)}
    return text.translate(str.maketrans(missing)) if missing else text


def unshown(text, can_show):
    """The letters of `text` that cannot be shown, in their order."""
    return [letter for letter in dict.fromkeys(FOREIGN.findall(text)) if not can_show(letter)]


def _name(letter):
    """A sign has a name that means something; a letter of a script has its place in Unicode."""
    if unicodedata.category(letter).startswith("S"):
        return f"[{unicodedata.name(letter, '').lower() or _place(letter)}]"
    if unicodedata.category(letter) in ("Mn", "Cf", "Co", "Cn"):
        return ""  # marks of what cannot be shown itself
    return f"[{_place(letter)}]"


def _place(letter):
    return f"U+{ord(letter):04X}"
