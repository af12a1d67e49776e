"""Each kind of paper beside the picture of it that is kept: a block that moved, vanished or overlaps shows at once.

The pictures are grey and small (60 dots to the inch), drawn by PDFium. After a change that is meant, `PAPERS_RENEW=1
python3 -m tests tests/papers/test_golden.py` draws them anew; look at what changed before they are kept.
Where they differ, both pictures are left beside each other in the folder that the message names.
"""

import os
from pathlib import Path

import pypdfium2
import pytest
from PIL import Image, ImageChops, ImageFilter

from shop.lib import pdf
from tests.papers.every_paper import KINDS, Papers

KEPT = Path(__file__).parent / "golden"
DPI = 60
TOLERANCE = 64  # of 255 steps of grey, after a blur: fonts are drawn a little differently from version to version
MOST_DOTS = 0.0015  # the share of dots that may differ by more than that


@pytest.fixture
def made(monkeypatch, cleo, ben):
    return Papers(monkeypatch, cleo, ben)


def drawn(content):
    """All pages of a PDF beneath each other, in sixteen greys."""
    pages = [page.render(scale=DPI / 72).to_pil().convert("L") for page in pypdfium2.PdfDocument(content)]
    whole = Image.new("L", (max(one.width for one in pages), sum(one.height for one in pages)), 255)
    top = 0
    for one in pages:
        whole.paste(one, (0, top))
        top += one.height
    return whole.point(lambda step: round(step / 17) * 17)


def difference(one, other):
    """The share of dots that differ by more than a shade; 1 when the pages are not as many or as large."""
    if one.size != other.size:
        return 1.0
    soft = [picture.filter(ImageFilter.GaussianBlur(1)) for picture in (one, other)]
    dots = ImageChops.difference(*soft).point(lambda step: 255 if step > TOLERANCE else 0)
    return dots.histogram()[255] / (one.width * one.height)


@pytest.mark.parametrize("kind", KINDS)
def test_it_looks_as_it_is_kept(made, kind, tmp_path):
    picture, path = drawn(getattr(made, f"of_{kind}")()), KEPT / f"{kind}.png"
    if os.environ.get("PAPERS_RENEW"):
        picture.quantize(16).save(path, optimize=True)
        return
    assert path.exists(), f"There is no picture of this paper yet; see {__name__}."
    kept = Image.open(path).convert("L")
    share = difference(picture, kept)
    if share > MOST_DOTS:
        picture.save(tmp_path / "now.png")
        kept.save(tmp_path / "kept.png")
    assert share <= MOST_DOTS, f"{kind} has changed by {share:.2%} of its dots; see {tmp_path}."


def test_no_paper_is_without_its_picture_and_none_is_large():
    assert {path.stem for path in KEPT.glob("*.png")} == set(KINDS)
    assert all(path.stat().st_size < 45_000 for path in KEPT.glob("*.png"))


MOVES = {
    "a block two millimetres lower": ".sums { position: relative; top: 2mm }",
    "a column that has lost its place": ".lines .price { width: 30mm }",
    "the code of payment gone": ".code img { visibility: hidden }",
    "a line of the address too many": ".opening .to { padding-top: 4mm }",
    "larger letters": "html { font-size: 10.2pt }",
}


@pytest.mark.parametrize("css", MOVES.values(), ids=MOVES)
def test_what_moves_is_seen(made, monkeypatch, css):
    """The same invoice with one rule more is not taken for the kept one."""
    real = pdf.render_to_string
    monkeypatch.setattr(pdf, "render_to_string", lambda *a: real(*a).replace("</head>", f"<style>{css}</style></head>"))
    kept = Image.open(KEPT / "invoice.png").convert("L")
    assert difference(drawn(made.of_invoice()), kept) > MOST_DOTS
