"""The stud window, and the difference between the studs."""

from shop.worksheets.checks.build import cannot, findings
from shop.worksheets.checks.tail import tail_move
from shop.worksheets.findings import IN_RANGE, OUT_OF_RANGE, Finding
from shop.worksheets.model.tail import spec_of
from shop.worksheets.model.window import what_opens
from shop.worksheets.wording import tail as words


def stud_window(bench):
    """One finding: inside, outside with the smallest move, or empty with what makes it so and what would open it.

    The strings' own findings stand for it: it asks for no acceptance.
    """
    if not bench.has_check("stud_window"):
        return []
    window = bench.part("window")
    if window is None:
        return [cannot(bench, "stud_window", "window", subject="The stud window")]
    verdict, headline, why, move = _said(bench, window)
    return [Finding(
        key="stud_window", step=bench.step_of("stud_window"), string=None, check="stud_window", verdict=verdict,
        value=float(window.found.room_mm), headline=headline, why=why, move=move, blocks=False,
        assumed=bench.assumed(*spec_of(bench.sheet)),
    )]  # fmt: skip


def _said(bench, window):
    """(verdict, headline, why, move)."""
    numbers = bench.sheet.numbers
    if bool(window.found.empty):
        parts = (bench.part(name) for name in ("layout", "tail", "load", "heights"))
        opens = words.opens(bench.said, what_opens(bench.sheet, *parts))
        return OUT_OF_RANGE, words.empty(bench.said, numbers, window), words.EMPTY_WHY, opens
    if bool(window.found.inside):
        return IN_RANGE, words.inside(bench.said, numbers, window), "", ""
    return OUT_OF_RANGE, words.OUTSIDE, words.EMPTY_WHY, tail_move(bench)()


def stud_difference(bench):
    """One finding once both studs were read."""
    return findings(
        bench, "stud_difference", subject=lambda _: "The difference between the studs", unit="mm",
        why=words.DIFFERENCE_WHY, move=tail_move(bench),
    )  # fmt: skip
