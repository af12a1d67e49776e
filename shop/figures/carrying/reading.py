"""An uploaded file as rows of text, or the sentence that says why not. Nothing in here knows what the rows mean."""

import csv
import io
from dataclasses import dataclass

import vobject
from vobject.base import VObjectError

from shop.lib.sheets import RUNS

LARGEST_BYTES = 8 * 1024 * 1024
MOST_ROWS = 20_000
LONGEST_FIELD = 5_000
MOST_COLUMNS = 100
DELIMITERS = (",", ";", "\t")
UTF_16 = (b"\xff\xfe", b"\xfe\xff")
OTHERS = {b"PK\x03\x04": "a spreadsheet's own file or an archive", b"%PDF": "a PDF", b"\x89PNG": "a picture",
          b"\xff\xd8\xff": "a picture", b"\xd0\xcf\x11\xe0": "an old spreadsheet's own file", b"MZ": "a program",
          b"GIF8": "a picture", b"{\\rtf": "a text document"}  # fmt: skip


class FileRefused(ValueError):
    """The message is a sentence for people."""


@dataclass(frozen=True)
class Sheet:
    """`rows` are (line number, {head: text}); `guessed` when the encoding had to be guessed."""

    heads: list
    rows: list
    guessed: bool = False


def text_of(data):
    """(text, whether its encoding was guessed) of an uploaded file's bytes."""
    if not data.strip():
        raise FileRefused("The file is empty.")
    if len(data) > LARGEST_BYTES:
        raise FileRefused(f"The file has more than {LARGEST_BYTES // 2**20} MB. Split it and read the parts in turn.")
    known = next((name for start, name in OTHERS.items() if data.startswith(start)), None)
    if known:
        raise FileRefused(f"This is {known}, whatever its name says. Save the table as CSV, in UTF-8, and choose that.")
    text, guessed = _decoded(data)
    if "\0" in text:
        line = text[: text.index("\0")].count("\n") + 1
        raise FileRefused(f"Line {line} holds a NUL, which no text has. Save the table again as CSV, in UTF-8.")
    return text, guessed


def _decoded(data):
    try:
        if data.startswith(UTF_16):
            return data.decode("utf-16"), False
        return data.decode("utf-8-sig"), False
    except UnicodeDecodeError:
        try:
            return data.decode("cp1252"), True  # what spreadsheets of the West still write
        except UnicodeDecodeError as error:
            line = data[: error.start].count(b"\n") + 1
            raise FileRefused(f"Line {line} cannot be read as text. Save the table as CSV, in UTF-8.") from error


def sheet_of(data):
    """A CSV file with a head line as a Sheet. Comma, semicolon or tabulator between cells."""
    text, guessed = text_of(data)
    head = text.lstrip("\r\n").split("\n", 1)[0]
    delimiter = max(DELIMITERS, key=head.count)
    try:
        rows = _rows(csv.reader(io.StringIO(text), delimiter=delimiter, strict=True))
        heads = next(rows, (1, []))[1]
        named = [cell.strip() for cell in heads]
        _check_heads(named)
        found = [(line, _by_head(named, cells, line)) for line, cells in rows]
    except csv.Error as error:
        raise FileRefused(f"The file is no table that can be read: {error}.") from error
    if not found:
        raise FileRefused("The file has a head line and no row below it.")
    return Sheet(named, found, guessed)


def _rows(reader):
    count = 0
    for cells in reader:
        if not any(cell.strip() for cell in cells):
            continue
        count += 1
        if count > MOST_ROWS + 1:
            raise FileRefused(f"The file has more than {MOST_ROWS:,} rows. Split it and read the parts in turn.")
        yield reader.line_num, cells


def _check_heads(heads):
    if len(heads) > MOST_COLUMNS:
        raise FileRefused(f"The table has more than {MOST_COLUMNS} columns.")
    twice = {head for head in heads if head and heads.count(head) > 1}
    if twice:
        raise FileRefused(f"Two columns are headed “{sorted(twice)[0][:60]}”.")


def _by_head(heads, cells, line):
    if any(cell.strip() for cell in cells[len(heads) :]):
        raise FileRefused(f"Line {line} has more cells than the head line.")
    long = next((head for head, cell in zip(heads, cells, strict=False) if len(cell) > LONGEST_FIELD), None)
    if long is not None:
        raise FileRefused(f"Line {line}, “{long}”: a cell has more than {LONGEST_FIELD} characters.")
    return {head: _plain(cell) for head, cell in zip(heads, cells, strict=False) if head}


def _plain(cell):
    """The cell as its writer meant it: what our own tables neutralise for spreadsheets is taken back."""
    cell = cell.strip()
    return cell[1:] if cell.startswith("'") and cell[1:].startswith(RUNS) else cell


def cards_of(data):
    """Address cards (RFC 6350, and the older ones that telephones still write) as a Sheet of customers."""
    text, guessed = text_of(data)
    rows = []
    try:
        for card in vobject.readComponents(text):
            if card.name != "VCARD":
                raise FileRefused("The file holds something other than address cards.")
            rows.append((len(rows) + 1, _of_card(card)))
            if len(rows) > MOST_ROWS:
                raise FileRefused(f"The file has more than {MOST_ROWS:,} cards.")
    except (VObjectError, UnicodeError, ValueError, IndexError, AttributeError) as error:
        if isinstance(error, FileRefused):
            raise
        raise FileRefused(f"Card {len(rows) + 1} cannot be read. Save the cards again as vCard 4.0 or 3.0.") from error
    if not rows:
        raise FileRefused("The file holds no address card.")
    return Sheet(["name", "firm", "e-mail", "telephone", "address", "postcode", "town", "notes"], rows, guessed)


def _of_card(card):
    address = _first(card, "adr")
    return {
        "name": _first(card, "fn") or str(_first(card, "n") or "").strip(),
        "firm": " ".join(_first(card, "org") or []) if isinstance(_first(card, "org"), list) else "",
        "e-mail": str(_first(card, "email") or "").removeprefix("mailto:"),
        "telephone": str(_first(card, "tel") or "").removeprefix("tel:"),
        "address": _street(address) if address else "",
        "postcode": _line(address.code) if address else "",
        "town": _line(address.city) if address else "",
        "notes": str(_first(card, "note") or ""),
    }


def _first(card, name):
    found = card.contents.get(name)
    return found[0].value if found else None


def _street(value):
    lines = (value.street, value.extended, value.region, value.country)
    return "\n".join(_line(line) for line in lines if line)


def _line(value):
    return value if isinstance(value, str) else " ".join(value or [])
