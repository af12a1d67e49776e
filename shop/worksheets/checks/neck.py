"""Relief and nut."""

from geometry.neck import nut_from_gap_mm
from shop.worksheets.checks.build import findings
from shop.worksheets.wording import neck as words


def relief(bench):
    return findings(
        bench, "relief", subject=lambda _: "Relief", unit="mm", why=words.relief_why,
        move=lambda _, judged: words.relief_move(bench.said, judged),
    )  # fmt: skip


def nut_gap(bench):
    """One finding for each string whose gap was read; the move is of the slot, which is more than that of the gap."""
    return findings(
        bench, "nut_gap", subject=lambda number: f"Gap at fret 1 of string {number}", unit="mm", why=words.NUT_WHY,
        move=lambda _, judged: words.nut_move(bench.said, judged, _slot_per_gap(bench)),
    )  # fmt: skip


def _slot_per_gap(bench):
    """How far the slot moves for each millimetre of gap; None when the scale is not known."""
    layout = bench.part("layout")
    if layout is None:
        return None
    deep, shallow = (nut_from_gap_mm(layout.neck, [gap] * len(layout.scale)) for gap in (1.0, 0.0))
    return float((deep - shallow)[0])
