"""Which changes of rows touch which of the owner's sums. The migration lets the database watch for them."""

from shop.lib.touched import Note, touched

INTO = "remade_figures_touched"
ORDER, INSTRUMENT, SHEET = "order", "instrument", "sheet"
COMPARED = "{row}.stage IN ('received', 'left') AND {row}.key IN ('relief', 'height_12', 'octave')"


def watched():
    """The operations that let the database note every such change."""
    return [*_billed(), *_visits(), *_worksheets()]


def _billed():
    return [
        touched("figures_issued", "billing_invoice", Note(("turnaround", "billed"), day="issued_on"), into=INTO),
        touched("figures_used", "stock_movement", Note(("cost",), day="at"), into=INTO, events=["insert", "delete"]),
    ]


def _visits():
    table = "orders_workorder"
    return [
        touched(
            "figures_promised", table, Note(("turnaround",), thing=ORDER, key="id"), into=INTO,
            columns=["promised_on", "booked_at"], events=["update"],
        ),
        touched(
            "figures_collected", table, Note(("returns",), day="closed_at"), into=INTO,
            columns=["closed_at", "instrument_id", "branch_id"],
        ),
        touched(  # an earlier visit's instrument has come back, or has not
            "figures_back", table, Note(("returns",), thing=INSTRUMENT, key="instrument_id", day="booked_at"),
            into=INTO, columns=["booked_at", "instrument_id"],
        ),
        touched(
            "figures_moved", table, Note(("estimated", "spent"), thing=ORDER, key="id"),
            Note(("drift",), thing=INSTRUMENT, key="instrument_id"), into=INTO,
            columns=["instrument_id", "branch_id"], events=["update"],
        ),
    ]  # fmt: skip


def _worksheets():
    table = "worksheets_worksheet"
    return [
        touched(
            "figures_timed", table, Note(("estimated", "spent"), day="signed_at"),
            Note(("estimated",), thing=ORDER, key="order_id"), into=INTO,
            columns=["signed_at", "spent_seconds", "order_id"],
        ),
        touched(  # whatever was read at this visit and at those after it
            "figures_compared", table, Note(("drift",), thing=ORDER, key="order_id", day="started_at"), into=INTO,
            columns=["signed_at", "started_at", "order_id"],
        ),
        touched(
            "figures_estimated", "orders_line", Note(("estimated",), thing=ORDER, key="order_id"), into=INTO,
            columns=["minutes", "agreement", "order_id"],
        ),
        touched(
            "figures_read", "worksheets_reading", Note(("drift",), thing=SHEET, key="worksheet_id", when=COMPARED),
            into=INTO,
        ),
    ]  # fmt: skip
