"""Relief and nut."""

from geometry.neck import nut_from_gap_mm
from shop.worksheets.checks.build import findings
from shop.worksheets.judging import Claim, source_of
from shop.worksheets.wording import neck as words


def relief(bench):
    value = bench.sheet.value("relief")
    if value is None or not bench.has_check("relief"):
        return []
    claim = Claim(value, *bench.sheet.target("relief"), source_of(bench.sheet, "relief"))
    return findings(
        bench, "relief", {None: claim}, subject=lambda _: "Relief", unit="mm", why=words.relief_why(claim),
        move=lambda _, judged: words.relief_move(bench.said, judged),
    )  # fmt: skip


def nut_gap(bench):
    """One finding for each string whose gap was read; the move is of the slot, which is more than that of the gap."""
    sheet, low_high = bench.sheet, bench.sheet.target("nut_gap")
    if not bench.has_check("nut_gap"):
        return []
    claims = {
        number: Claim(value, *low_high, source_of(sheet, "nut_gap", number))
        for number in sheet.numbers
        if (value := sheet.value("nut_gap", number)) is not None
    }
    return findings(
        bench, "nut_gap", claims, subject=lambda number: f"Gap at fret 1 of string {number}", unit="mm",
        why=words.NUT_WHY, move=lambda _, judged: words.nut_move(bench.said, judged, _slot_per_gap(bench)),
    )  # fmt: skip


def _slot_per_gap(bench):
    """How far the slot moves for each millimetre of gap; None when the scale is not known."""
    layout = bench.part("layout")
    if layout is None:
        return None
    deep, shallow = (nut_from_gap_mm(layout.neck, [gap] * len(layout.scale)) for gap in (1.0, 0.0))
    return float((deep - shallow)[0])
