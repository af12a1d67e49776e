"""Text as people remember it: no case, no accents, no spacing."""

import re
import unicodedata

# Letters that Unicode does not take apart, written as people without them on the keyboard would.
SPELT_OUT = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"})


def folded(text):
    """`text` in lower case, without accents, single-spaced."""
    apart = unicodedata.normalize("NFKD", text.casefold().translate(SPELT_OUT))
    bare = "".join(letter for letter in apart if not unicodedata.combining(letter))
    return " ".join(bare.split())


def digits_of(text):
    """Only the digits of a telephone number, an international 00 or + prefix made one form."""
    digits = re.sub(r"\D", "", text)
    return digits[2:] if digits.startswith("00") and not text.strip().startswith("+") else digits


def serial_key(text):
    """A serial number without spacing and punctuation."""
    return re.sub(r"[^0-9a-z]", "", folded(text))
