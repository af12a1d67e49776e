"""What can be read in: for each kind its columns, and how a row becomes a record."""

from dataclasses import dataclass, field
from decimal import Decimal

from django.core.exceptions import ValidationError

from shop.instruments.kinds import BridgeFamily, Kind, usual_of
from shop.instruments.models import Instrument
from shop.lib import money
from shop.lib.folding import digits_of, folded, serial_key
from shop.lib.validators import valid_country, valid_vat_number
from shop.people.models import Customer
from shop.stock.models import ItemKind, PriceItem, Supplier


class RowProblem(ValueError):
    """A row that cannot be taken; `args` are (column, a sentence)."""


class OnFile(Exception):
    """The row is there already and is left out."""


@dataclass
class Known:
    """What is on file, looked up once for all rows."""

    first: dict = field(default_factory=dict)  # key → line that brought it, to find rows that are there twice
    on_file: set = field(default_factory=set)
    by_key: dict = field(default_factory=dict)
    suppliers: dict = field(default_factory=dict)
    workshop: object = None

    def once(self, keys, line, column):
        """Raise where any of `keys` is on file, or in an earlier row."""
        keys = [key for key in keys if key]
        if any(key in self.on_file for key in keys):
            raise OnFile
        for key in keys:
            before = self.first.setdefault(key, line)
            if before != line:
                raise RowProblem(column, f"The same as in line {before}.")


def _choice(values, text, column):
    """The stored value of `text`, which is a value or a label of `values`; '' for nothing."""
    found = {folded(str(one)): value for value, label in values.choices for one in (value, label)}
    if text and folded(text) not in found:
        raise RowProblem(column, f"Not one of: {', '.join(str(label) for label in values.labels)}.")
    return found.get(folded(text), "")


def _amount(text, column):
    try:
        return money.read(text)
    except ValueError as problem:
        raise RowProblem(column, str(problem)) from None


def _whole(text, column, usual):
    if not text:
        return usual
    if not (text.isascii() and text.isdigit() and len(text) < 7):
        raise RowProblem(column, "Write a whole number.")
    return int(text)


def _keys_of_customer(email, phone, name):
    digits = digits_of(phone)
    return [("e", email.casefold()) if email else None, ("p", digits, folded(name)) if len(digits) > 5 else None]


def known_customers(_workshop):
    known = Known()
    for name, email, phone in Customer.objects.values_list("name", "email", "phone").iterator():
        known.on_file.update(key for key in _keys_of_customer(email, phone, name) if key)
    return known


def customer(row, line, known):
    made = Customer(
        name=row.get("name", ""), company=row.get("firm", ""), email=row.get("e-mail", ""),
        phone=row.get("telephone", ""), address=row.get("address", ""),
        postcode=row.get("postcode", ""), town=row.get("town", ""), country=row.get("country", "").upper(),
        vat_number="".join(row.get("VAT number", "").split()).upper(), notes=row.get("notes", ""),
        taste=row.get("likes", ""), mail_agreed=_yes(row.get("may be mailed", ""), "may be mailed"),
    )  # fmt: skip
    _checked(valid_country, made.country, "country")
    _checked(valid_vat_number, made.vat_number, "VAT number")
    known.once(_keys_of_customer(made.email, made.phone, made.name), line, "e-mail" if made.email else "telephone")
    return made


def _yes(text, column):
    if folded(text) not in ("", "yes", "no", "true", "false", "1", "0"):
        raise RowProblem(column, "Write yes or no.")
    return folded(text) not in ("no", "false", "0")


def _checked(validator, value, column):
    try:
        if value:
            validator(value)
    except ValidationError as problem:
        raise RowProblem(column, " ".join(problem.messages)) from None


def known_instruments(_workshop):
    known = Known()
    for pk, name, email, digits in Customer.objects.values_list("pk", "name", "email", "phone_digits").iterator():
        for key in (("e", email.casefold()), ("p", digits), ("n", folded(name))):
            if key[1]:
                known.by_key[key] = None if key in known.by_key else pk  # None: several, so it says nobody
    rows = Instrument.objects.exclude(serial_key="").values_list("customer", "serial_key")
    known.on_file.update(rows.iterator())
    return known


def instrument(row, line, known):
    said = row.get("customer", "")
    keys = (("e", said.casefold()), ("p", digits_of(said)), ("n", folded(said)))
    owner = next((known.by_key[key] for key in keys if key[1] and known.by_key.get(key)), None)
    if owner is None:
        several = any(key in known.by_key for key in keys)
        wrong = "Several customers are named so; write the e-mail address." if several else "No such customer on file."
        raise RowProblem("customer", wrong)
    kind = _choice(Kind, row.get("kind", ""), "kind") or Kind.ELECTRIC
    family, strings = usual_of(kind)
    made = Instrument(
        customer_id=owner, kind=kind, family=_choice(BridgeFamily, row.get("bridge", ""), "bridge") or family,
        string_count=_whole(row.get("strings", ""), "strings", strings), maker=row.get("maker", ""),
        model_name=row.get("model", ""), serial=row.get("serial number", ""), colour=row.get("colour", ""),
        year=row.get("year made", ""), notes=row.get("notes", ""),
    )  # fmt: skip
    key = serial_key(made.serial)
    known.once([(owner, key) if key else None], line, "serial number")
    return made


def known_parts(workshop):
    known = Known(workshop=workshop)
    known.on_file.update(folded(name) for name in PriceItem.objects.values_list("name", flat=True))
    known.suppliers = {folded(one.name): one for one in Supplier.objects.all()}
    return known


def part(row, line, known):
    supplier = row.get("supplier", "")
    if supplier and folded(supplier) not in known.suppliers:
        raise RowProblem("supplier", "No such supplier on file; write it down first.")
    optional = {name: row.get(head, "") for name, head in (
        ("cost", "cost"), ("reorder_at", "reorder at"), ("order_up_to", "order up to"))}  # fmt: skip
    read = {name: _amount(text, name.replace("_", " ")) for name, text in optional.items() if text}
    rate = row.get("tax rate", "")
    made = PriceItem(
        name=row.get("name", ""), kind=_choice(ItemKind, row.get("kind", ""), "kind") or ItemKind.PART,
        price=_amount(row.get("price", ""), "price"), supplier=known.suppliers.get(folded(supplier)),
        tax_rate=_amount(rate, "tax rate") if rate else known.workshop.tax_rate,
        usual_minutes=_whole(row.get("minutes", ""), "minutes", 0), supplier_code=row.get("supplier's number", ""),
        place=row.get("place", ""), **read,
    )  # fmt: skip
    made.opening = _opening(row.get("on hand", ""))
    known.once([folded(made.name)], line, "name")
    return made


def _opening(text):
    if not text:
        return None
    found = _amount(text, "on hand")
    if not Decimal(0) <= found <= Decimal(9999):
        raise RowProblem("on hand", "Write how many there are, from 0 to 9999.")
    return found


@dataclass(frozen=True)
class Readable:
    """A kind of record that can be read in. `needed` heads must be there; the others may be."""

    key: str
    title: str
    model: type
    needed: tuple
    heads: tuple
    know: object
    make: object
    says: str


KINDS = {
    one.key: one
    for one in (
        Readable("customers", "Customers", Customer, ("name",),
                 ("name", "firm", "e-mail", "telephone", "address", "postcode", "town", "country", "VAT number",
                  "likes", "notes", "may be mailed"), known_customers, customer,
                 "Who is on file already, by e-mail address or by name and telephone, is left out."),
        Readable("instruments", "Instruments", Instrument, ("customer",),
                 ("customer", "kind", "maker", "model", "serial number", "colour", "year made", "strings", "bridge",
                  "notes"), known_instruments, instrument,
                 "The customer is named by e-mail address, telephone or full name, and has to be on file."),
        Readable("parts", "Parts and prices", PriceItem, ("name", "price"),
                 ("name", "kind", "price", "tax rate", "minutes", "cost", "supplier", "supplier's number", "place",
                  "reorder at", "order up to", "on hand"), known_parts, part,
                 "What lies there now goes in as a first count. A name that is on the price list is left out."),
    )
}  # fmt: skip
