"""Reading papers as people and machines do."""

import io
import re

import pdfplumber

# Points: the style sheets' margins, less a hair for rounding.
SIDES = 20 / 25.4 * 72 - 0.5


def pages(content):
    """The text of each page, spaces of any width made plain ones."""
    with pdfplumber.open(io.BytesIO(content)) as pdf:
        return [re.sub(r"[\u00a0\u202f\u2009]", " ", page.extract_text()) for page in pdf.pages]


def text(content):
    return "\n".join(pages(content))


def beyond_the_margins(content):
    """Words that stand outside the side margins, or off the sheet."""
    found = []
    with pdfplumber.open(io.BytesIO(content)) as pdf:
        for page in pdf.pages:
            for word in page.extract_words():
                inside = word["x0"] >= SIDES and word["x1"] <= page.width - SIDES
                on_sheet = word["top"] >= 0 and word["bottom"] <= page.height
                if not (inside and on_sheet):
                    found.append((page.page_number, word["text"], round(word["x0"]), round(word["x1"])))
    return found
