"""Tables for spreadsheets: whole, and nothing that a spreadsheet would run (OWASP, CSV Injection, from memory)."""

import csv
import io

import pytest

from shop.lib.sheets import csv_download, plain_cell


@pytest.mark.parametrize("text", ["=1+1", "+44 1632", "-2", "@SUM(A1)", "\tx", "\rx", "=cmd|'/c calc'!A0"])
def test_what_would_run_stays_text(text):
    assert plain_cell(text) == f"'{text}"


@pytest.mark.parametrize(("value", "cell"), [(-2, "-2"), (None, ""), ("Mara", "Mara"), ("a=b", "a=b"), (1.5, "1.5")])
def test_what_does_not_run_is_left_alone(value, cell):
    assert plain_cell(value) == cell


def test_a_download_reads_back():
    rows = [["26-0001", 'a "quoted", word'], ["26-0002", "two\nlines, ö"]]
    answer = csv_download("orders.csv", ["number", "what"], rows)
    text = b"".join(answer.streaming_content).decode("utf-8-sig")
    assert list(csv.reader(io.StringIO(text, newline=""))) == [["number", "what"], *rows]
    assert answer["Content-Disposition"] == 'attachment; filename="orders.csv"'
