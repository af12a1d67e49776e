"""The strings' whole load, and how it has changed since the visit before."""

from shop.worksheets.checks.build import cannot
from shop.worksheets.findings import STATED, Finding
from shop.worksheets.wording import neck as words

SCALES = ("scale_bass_mm", "scale_treble_mm")
NOTABLE_N = 5.0  # less than the scatter between two sets of one gauge; common practice, no source


def load(bench):
    if not bench.has_check("load"):
        return []
    part = bench.part("load")
    if part is None:
        return [cannot(bench, "load", "load", subject="The strings' load")]
    strings = tuple(f"string {number}" for number in part.assumed)
    found = [_stated(bench, "load", part.total, words.load(part), strings)]
    change = None if part.before is None else part.total - part.before
    if change is not None and abs(change) >= NOTABLE_N and bench.has_check("load_change"):
        found.append(_stated(bench, "load_change", change, words.load_change(change), strings))
    return found


def _stated(bench, check, value, headline, strings):
    return Finding(
        key=check, step=bench.step_of(check), string=None, check=check, verdict=STATED, value=value, unit="N",
        headline=headline, why=words.LOAD_WHY, assumed=bench.assumed(*SCALES) + strings,
    )  # fmt: skip
