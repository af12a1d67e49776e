"""The drawings print by WeasyPrint with their own colours, without the screen's style sheet."""

import io

import pdfplumber
import pytest
from weasyprint import HTML

from shop.worksheets import drawings
from tests.worksheets_screens.drawing_numbers import NUMBERS


@pytest.mark.parametrize("name", sorted(drawings.DRAWINGS))
def test_it_prints_with_its_lines_and_words(name):
    svg = drawings.drawing_of(name, NUMBERS).svg
    pdf = HTML(string=f"<html><body>{svg}</body></html>").write_pdf()
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        page = opened.pages[0]
        colours = {str(one["stroking_color"]) for one in (*page.lines, *page.curves, *page.rects)}
        assert "mm" in page.extract_text() or "cents" in page.extract_text()
    assert len(colours) > 1
