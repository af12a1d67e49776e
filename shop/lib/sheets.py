"""Tables for spreadsheets. What a spreadsheet would run as a formula is written so that it stays text."""

import csv

from shop.lib.sending import Download

RUNS = ("=", "+", "-", "@", "\t", "\r", "\n")
BOM = "\ufeff"  # without it some programs read UTF-8 as something older


class _Line:
    """A file that hands back what is written to it."""

    def write(self, text):
        return text


def plain_cell(value):
    """`value` as text that no spreadsheet runs. A number stays a number, also one below zero."""
    if value is None:
        return ""
    text = str(value)
    if isinstance(value, str) and text.startswith(RUNS):
        return f"'{text}"
    return text


def csv_download(name, heads, rows):
    """A download `name` with a head line; `rows` may be an endless-looking iterator: it is streamed."""
    writer = csv.writer(_Line())
    lines = (writer.writerow([plain_cell(cell) for cell in row]) for row in _with_heads(heads, rows))
    return Download(name, _with_bom(lines), "text/csv; charset=utf-8")


def _with_heads(heads, rows):
    yield heads
    yield from rows


def _with_bom(lines):
    yield BOM
    yield from lines
