"""Letters of many alphabets: drawn with their own outlines, embedded, and never an empty box without a word."""

import io
import logging

import pikepdf
import pypdfium2
import pytest
from PIL import ImageChops

from shop.lib import letters, pdf, stationery
from tests.papers import reading

FACES = "app://static/vendor/source-sans-3-5.3.1/source-sans-3-{}-{}-normal.ttf"
DISPLAY = "app://static/vendor/besley-5.3.0/besley-{}-600-normal.ttf"
# Letters that only the named file holds; the sets are those of Unicode's blocks.
OF = {
    "latin": "Kilnhaven åäöüß €½×·–“”", "latin-ext": "ŁłęćşğİŚŻřůőűčň", "greek": "ΕλευθερίαΠδόύ",
    "cyrillic": "ОлександраЇжькевчї", "vietnamese": "ễịọếạẩồữ",
}  # fmt: skip
NAMES = [
    "Łucja Święćkowska", "Gülşah İğdırlıoğlu", "Ελευθερία Παπαδοπούλου", "Олександра Їжакевич", "Nguyễn Thị Ngọc Ánh",
    "Kateřina Žďárská", "Þórdís Ægisdóttir", "Őrsi Űrszula", "שרה לוי", "سارة العلي", "F♯ B♭ ≥ №",
]  # fmt: skip
CJK, PICTURE = "漢", "🎸"


def page(markup, css="", sheets=()):
    return pdf.pdf_of(f"<html lang=en><title>x</title><style>{css}</style>{markup}</html>", css=sheets)


def picture(content):
    """What is drawn, cut out of its page."""
    whole = pypdfium2.PdfDocument(content)[0].render(scale=3).to_pil().convert("L")
    return whole.crop(ImageChops.invert(whole).getbbox())


TEXT = "'Source Sans', 'Source Sans Extended', 'Source Sans Greek', 'Source Sans Cyrillic', 'Source Sans Vietnamese'"
CASES = [(name, weight, TEXT, FACES.format(name, weight)) for name in OF for weight in (400, 600)]
CASES += [(name, 600, "'Besley', 'Besley Extended'", DISPLAY.format(name)) for name in ("latin", "latin-ext")]


@pytest.mark.parametrize(
    ("name", "weight", "families", "file"), CASES, ids=[f"{c[0]}-{c[1]}-{n}" for n, c in enumerate(CASES)]
)
def test_each_letter_is_drawn_as_its_own_face_draws_it(name, weight, families, file):
    """Between letters of all the other faces (in white), and alone from the one file: the same picture."""
    line = f'<p style="font: {weight} 24pt/2 {{}}; margin: 0; color: {{}}">{{}}</p>'
    others = line.format(families, "#fff", "".join(letters for other, letters in OF.items() if other != name))
    among = page(others + line.format(families, "#000", OF[name]) + others, sheets=["css/paper-fonts.css"])
    own = file.rpartition("/")[2].removesuffix(".ttf")
    face = f"@font-face {{ font-family: {own}; font-weight: {weight}; src: url('{file}') }}"
    alone = page(line.format(own, "#000", OF[name]), css=face)
    assert difference(among, alone) < 0.1


def difference(one, other):
    """The share of dots that differ plainly; all of them when the pictures have not the same size."""
    one, other = picture(one), picture(other)
    if abs(one.width - other.width) > 1 or abs(one.height - other.height) > 1:
        return 1
    dots = ImageChops.difference(one, other).point(lambda step: 255 if step > 128 else 0)
    return dots.histogram()[255] / (dots.width * dots.height)


def test_names_of_many_alphabets_are_embedded_and_found_again(caplog):
    with caplog.at_level(logging.WARNING, logger="weasyprint"):
        content = page("".join(f"<p>{name}</p>" for name in NAMES), sheets=stationery.sheets_for("A4"))
    assert "notdef" not in caplog.text
    text = reading.text(content)
    for name in NAMES[:8]:
        assert name in text
    with pikepdf.open(io.BytesIO(content)) as made:
        known = [one for one in made.objects if isinstance(one, pikepdf.Dictionary) and "/FontName" in one]
        assert len(known) >= 6
        assert len({str(one.FontName) for one in known}) == len(known)  # one name for two files: outlines get mixed up
        assert all("/FontFile2" in one or "/FontFile3" in one for one in known)
        assert all(str(one.FontName)[7] == "+" for one in known)  # cut to what is used
    assert len(content) < 150_000


def test_what_no_font_holds_is_named_in_its_place(monkeypatch, caplog):
    """A machine with Chinese fonts shows the letter; this one is told to have none."""
    monkeypatch.setattr(pdf, "can_show", lambda letter: letter not in CJK + PICTURE)
    with caplog.at_level(logging.WARNING, logger="weasyprint"):
        text = reading.text(page(f"<p>Mei {CJK}, {PICTURE} lover</p>", sheets=stationery.sheets_for("A4")))
    assert "Mei [U+6F22], [guitar] lover" in text
    assert "notdef" not in caplog.text


def test_what_can_be_shown_is_asked_of_the_fonts():
    stationery.warm_up_for("A4")
    assert all(pdf.can_show(letter) for letter in "ŁЖΩếשش→♯")
    assert not pdf.can_show("\u0378")  # nobody's letter


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Ada", "Ada"),
        ("한 a", "[U+D55C] a"),
        ("\U0001fa95!", "[banjo]!"),
        ("a\ufe0f", "a"),
        ("ไทย", "[U+0E44][U+0E17][U+0E22]"),
    ],
)
def test_signs_have_names_and_letters_their_place(text, said):
    assert letters.named(text, str.isascii) == said
