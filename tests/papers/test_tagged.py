"""Each kind of paper is read aloud well: PDF/UA-1 (ISO 14289-1), or PDF/A-3a for the invoice that carries XML.

No validator of PDF/UA is packaged for this machine; what the standard asks for and can be seen in the file is checked
one by one, by pikepdf. The clauses are named from memory.
"""

import io
from itertools import pairwise

import pikepdf
import pytest

from tests.papers.every_paper import KINDS, Papers

UA, A3 = "http://www.aiim.org/pdfua/ns/id/", "http://www.aiim.org/pdfa/ns/id/"
HYBRIDS = {"invoice", "credit_note"}
DRAWN = {"receipt": 2, "handover_sheet": 24, "invoice": 1, "reminder": 1, "label": 1, "card": 1}  # with codes


@pytest.fixture
def made(monkeypatch, cleo, ben):
    return Papers(monkeypatch, cleo, ben)


def elements(node):
    """Every element of the structure below `node`, in reading order."""
    kids = node.get("/K", [])
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield kid
            yield from elements(kid)


@pytest.mark.parametrize("kind", KINDS)
def test_title_language_tags_and_words_for_pictures(made, kind):
    pdf = pikepdf.open(io.BytesIO(getattr(made, f"of_{kind}")()))
    assert pdf.Root.MarkInfo.Marked  # 7.1
    assert pdf.Root.Lang == "en"  # 7.2
    assert pdf.Root.ViewerPreferences.DisplayDocTitle  # 7.1
    with pdf.open_metadata() as said:
        assert said["dc:title"].strip(" ·")
        assert said["dc:title"] == str(pdf.docinfo["/Title"])
        part = said[f"{{{A3}}}part"] if kind in HYBRIDS else said[f"{{{UA}}}part"]
        assert part == ("3" if kind in HYBRIDS else "1")
    found = list(elements(pdf.Root.StructTreeRoot))
    tags = [str(one.S) for one in found]
    assert tags.count("/H1") == 1
    assert levels_do_not_skip([int(tag[2:]) for tag in tags if tag[1:2] == "H" and tag[2:].isdigit()])  # 7.4.2
    tables = [one for one in found if one.S == "/Table"]
    assert all("/TH" in {str(cell.S) for cell in elements(one)} for one in tables)  # 7.5: none is there for its looks
    assert not [one for one in tables for inner in elements(one) if inner.S == "/Table"]
    pictures = [one for one in found if one.S == "/Figure"]
    assert len(pictures) == DRAWN.get(kind, 0)
    assert all(str(one.get("/Alt", "")).strip() for one in pictures)  # 7.3
    for page in pdf.pages:
        assert page.get("/Tabs", "/S") == "/S"  # 7.18.3
        assert "/StructParents" in page


def levels_do_not_skip(levels):
    return all(later <= before + 1 for before, later in pairwise(levels))


@pytest.mark.parametrize("kind", ["invoice", "quote", "journal", "statement"])
def test_tables_of_figures_have_heads(made, kind):
    """7.5: whoever hears a figure can ask which column it stands in."""
    pdf = pikepdf.open(io.BytesIO(getattr(made, f"of_{kind}")()))
    found = list(elements(pdf.Root.StructTreeRoot))
    heads = [one for one in found if one.S == "/TH"]
    assert len(heads) >= 5
    assert "/THead" in {str(one.S) for one in found}


def test_every_font_says_which_letters_it_draws(made):
    """7.21.7: text can be read out and copied."""
    pdf = pikepdf.open(io.BytesIO(made.of_handover_sheet()))
    fonts = [one for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and one.get("/Type") == "/Font"
             and one.get("/Subtype") == "/Type0"]  # fmt: skip
    assert fonts
    assert all("/ToUnicode" in one for one in fonts)
