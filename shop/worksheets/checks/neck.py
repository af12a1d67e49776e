"""Relief and nut."""

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
        move=lambda _, judged: words.nut_move(bench.said, judged, bench.part("slot")),
    )  # fmt: skip
