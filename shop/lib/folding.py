"""Text as people remember it: no case, no accents, no spacing."""

import re
import unicodedata

# Letters that Unicode does not take apart, written as people without them on the keyboard would.
SPELT_OUT = str.maketrans({"ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"})
LEAST_OF_A_NUMBER = 7  # fewer digits are no telephone number that could be taken for another
COUNTRY_DIGITS = 3  # ITU-T E.164: a country code has one to three digits


def folded(text):
    """`text` in lower case, without accents, single-spaced."""
    apart = unicodedata.normalize("NFKD", text.casefold().translate(SPELT_OUT))
    bare = "".join(letter for letter in apart if not unicodedata.combining(letter))
    return " ".join(printable(bare).split())


def printable(text):
    """`text` with a space for each control character: no database and no number has any."""
    return "".join(" " if unicodedata.category(letter) in ("Cc", "Cs") else letter for letter in text)


def digits_of(text):
    """Only the digits of a telephone number, an international 00 or + prefix made one form.

    The (0) that some write between country and area is left out: '+44 (0)1632 960123' is 441632960123.
    """
    is_international = text.strip().startswith(("+", "00"))
    if is_international:
        text = re.sub(r"\(\s*0\s*\)", "", text)
    digits = re.sub(r"\D", "", text)
    return digits[2:] if digits.startswith("00") and not text.strip().startswith("+") else digits


def phones_agree(one, other):
    """Whether two telephone numbers, as digits, can be the same line: one with and one without its country."""
    shorter, longer = sorted((one.lstrip("0"), other.lstrip("0")), key=len)
    if len(shorter) < LEAST_OF_A_NUMBER:
        return False
    return longer.endswith(shorter) and len(longer) - len(shorter) <= COUNTRY_DIGITS


def phone_guesses(text):
    """What the stored digits of a number typed as `text` may contain, the most exact first."""
    digits = digits_of(text)
    guesses = [digits.lstrip("0")]
    if text.strip().startswith(("+", "00")):
        guesses += [digits[cut:].lstrip("0") for cut in range(1, COUNTRY_DIGITS + 1)]
    return [guess for place, guess in enumerate(guesses) if len(guess) >= (4 if place == 0 else 6)]


def serial_key(text):
    """A serial number without spacing and punctuation."""
    return re.sub(r"[^0-9a-z]", "", folded(text))
