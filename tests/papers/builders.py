"""Papers of every shape: short and long names, one line and forty, both sizes."""

from decimal import Decimal

from shop.billing import services as billing
from tests import factories, money_builders

NAMES = {
    "name": "Wilhelmina Alexandrina von Hohenfels-Oberwinterthal-Sankt Leonhard",
    "company": "Hohenfels & Oberwinterthal Tonträger und Bühnentechnik Gesellschaft mit beschränkter Haftung",
    "address": "c/o Musikhaus am Alten Markt, Hinterhaus, dritter Aufgang links\n10117 Kilnhaven",
    "buyer_reference": "PO-2026-000448-11-WERKSTATT", "vat_number": "DE136695976", "country": "DE",
}  # fmt: skip
UNBROKEN = "Supercalifragilistischexpialigetischunddannnochvielmehrohneleerzeichen" * 2
WORKSHOP = {
    "name": "Old Mill Guitar Workshop", "address": "Mill Lane 7\n10115 Kilnhaven", "country": "DE",
    "phone": "+44 1632 960200", "email": "workshop@example.com", "website": "oldmill.example.com",
    "iban": "DE89370400440532013000", "bic": "COBADEFFXXX", "tax_number": "DE136695976",
    "invoice_terms": "Thank you. Please keep this invoice with the instrument’s papers.",
}  # fmt: skip


def shop(**fields):
    return factories.workshop(**(WORKSHOP | fields))


def lines(count, rates=("20",)):
    """(text, price, quantity, rate) of `count` lines; some wrap, one holds a word that never ends."""
    texts = ["Setup: relief, nut, height, arch, tailpiece and intonation", "String set", "Fret ends dressed"]
    found = [
        (texts[n % 3], f"{20 + n}.95", "1" if n % 2 else "1.5", rates[n % len(rates)]) for n in range(count)
    ]
    if count > 4:
        found[3] = (f"A part with a name: {UNBROKEN}"[:200], "12.50", "2", rates[0])
    return found


def order(by, count=3, *, rates=("20",), long=False, **fields):
    who = factories.customer(**(NAMES if long else {"address": "12 Harbour Row\n10117 Kilnhaven"}))
    instrument = factories.instrument(who, colour="tobacco burst", maker="Larkrise" if not long else "L" * 60)
    return money_builders.order(by, lines=lines(count, rates), instrument=instrument, **fields)


def issued(by, count=3, *, deposit=None, discount=None, **fields):
    made = order(by, count, **fields)
    if discount:
        billing.set_discount(made, percent=Decimal(discount), reason="returning customer", by=by)
    if deposit:
        billing.receive(made, amount=Decimal(deposit), kind="cash", key=money_builders.key(), by=by)
    return billing.issue(made, by=by)
