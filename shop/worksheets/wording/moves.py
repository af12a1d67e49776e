"""What to turn, which way, how far: the last word of a finding."""

from geometry.errors import GeometryError
from geometry.threads import pitch_mm
from shop.worksheets.wording.said import listed, turns

LEAST_MM = 0.02  # less than a hand can turn or a calliper show


def thread_pitch(threads, name):
    """Travel per turn of the record's post, stud or saddle thread, or None when it does not say."""
    thread = threads.get(name) or ""
    try:
        return pitch_mm(thread) if thread else None
    except GeometryError:
        return None


def amount(said, mm, pitch):
    """'0.35 mm (1/2 turn)', or the length alone when the thread is not known."""
    length = said.length(abs(mm))
    return f"{length} ({turns(mm / pitch)})" if pitch else length


def sentence(text):
    return f"{text[:1].upper()}{text[1:]}." if text else ""


def cuts(said, by_string):
    """'string 4 by 0.20 mm and string 3 by 0.15 mm'."""
    return listed(f"string {number} by {said.length(mm)}" for number, mm in by_string)
