"""An invoice read from its printed page, as an accountant reads it, and without any of our code.

Three programs that share no code get the words out of a PDF: PDFium, pypdf and poppler's pdftotext. What they find is
read by the words that stand beside the figures, and figures by the marks of the workshop's number format.
"""

import io
import re
import shutil
import subprocess
from dataclasses import dataclass, field
from decimal import Decimal

import pypdf
import pypdfium2

SPACES = re.compile(r"[ \u00a0\u202f\u2009]+")
FIGURE = r"\d{1,3}(?:[.,’ ]?\d{3})*[.,]\d\d"
MONEY = rf"(−?(?:€|[A-Z]{{3}} ?)?{FIGURE}(?: ?(?:€|[A-Z]{{3}}))?)"
ROW = re.compile(rf"^(\d+) (.+?) ([\d.,’]+) ({FIGURE}) ([\d.,]+) ?% ({FIGURE})$")
TAX = re.compile(rf"^(?:of which )?VAT ([\d.,]+) ?%(?: on {MONEY})? {MONEY}$")
LABELS = {
    "sum": "Sum", "discount": r"Discount [\d.,]+ ?%, .*?", "net": "Total without VAT",
    "total": "Total(?: taken back)?", "due": "(?:To pay|Still to pay|To be given back to you)",
}  # fmt: skip
# What is set to the left of the sums, on the same line as one of them.
BESIDE = re.compile(r"^(?:Prices (?:include|are without) VAT\. ?)?(?:VAT 0 ?%: [^.]*\. ?)?")
RECEIVED = re.compile(rf"^(Deposit received|Received|Given back) .*? {MONEY}$")


def by_pdfium(content):
    with pypdfium2.PdfDocument(content) as pdf:
        return "\n".join(page.get_textpage().get_text_range() for page in pdf)


def by_pypdf(content):
    return "\n".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(content)).pages)


def by_poppler(content):
    run = subprocess.run(["pdftotext", "-layout", "-", "-"], input=content, capture_output=True, check=True)
    return run.stdout.decode()


READERS = {"PDFium": by_pdfium, "pypdf": by_pypdf}
if shutil.which("pdftotext"):
    READERS["poppler"] = by_poppler


@dataclass
class Printed:
    """What stands on the page. Amounts are as printed; `rates` is {rate: (base or None, tax)}."""

    number: str = ""
    lines: list = field(default_factory=list)
    rates: dict = field(default_factory=dict)
    received: Decimal = Decimal(0)
    amounts: dict = field(default_factory=dict)
    words: str = ""


def printed(text):
    """The Printed of a page's text, whichever program found it."""
    found = Printed(words=" ".join(text.split()))
    for raw in text.splitlines():
        line = SPACES.sub(" ", raw).strip()
        _read(found, BESIDE.sub("", line))
    return found


def _read(found, line):
    if known := re.fullmatch(r"(?:Invoice|Credit note) ([RC]\d\d-\d+)", line):
        found.number = known[1]
    elif row := ROW.match(line):
        found.lines.append((int(row[1]), row[2], *(number(row[n]) for n in (3, 4, 5, 6))))
    elif tax := TAX.match(line):
        found.rates[number(tax[1])] = (number(tax[2]) if tax[2] else None, number(tax[3]))
    elif received := RECEIVED.match(line):
        found.received -= number(received[2]) * (-1 if received[1] == "Given back" else 1)
    else:
        for name, label in LABELS.items():
            if amount := re.fullmatch(rf"{label} {MONEY}", line):
                found.amounts[name] = number(amount[1])


def number(text):
    """A figure: its last mark parts whole from cents, unless three digits follow it. Signs of money are left out."""
    parts = re.fullmatch(r"\D*?([\d.,’ ]*?)(?:[.,](\d{1,2}))?\D*", text)
    whole = re.sub(r"\D", "", parts[1])
    return Decimal(("-" if "−" in text else "") + whole + "." + (parts[2] or "0"))
