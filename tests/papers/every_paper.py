"""Each kind of paper, with the same days, numbers and names each time: for pictures, tags and looking at them.

All names are invented.
"""

import io
from datetime import UTC, date, datetime
from decimal import Decimal

from django.core.files.base import ContentFile
from django.utils import timezone
from PIL import Image, ImageDraw

from shop.billing import papers as billing_papers
from shop.billing import services as billing
from shop.billing import statements
from shop.billing.journal import Month
from shop.handover import letters, papers
from shop.orders import tags
from shop.orders.models import Agreement, ConditionMark, Photo
from tests import factories, handover_builders, money_builders
from tests.papers import builders

NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
LINES = [
    ("Full setup: relief, nut, height, arch, tailpiece and intonation", "85.00"),
    ("String set, nickel wound, 10 to 46", "9.50", "2"),
    ("New nut of bone, cut and polished", "75.00"),
]
STORY = "It buzzes on the low strings from the fifth fret up, and the high notes sound sharp."


class Papers:
    """Makes papers for `counter` and `bench`, with the clock stopped at NOW."""

    def __init__(self, monkeypatch, counter, bench, **workshop):
        monkeypatch.setattr(timezone, "now", lambda: NOW)
        self.counter, self.bench = counter, bench
        self.workshop = builders.shop(**workshop)
        self.number = 146

    def order(self, *, lines=LINES, name="Mara Fell", state=None, **fields):
        self.number += 1
        who = factories.customer(name, address="12 Harbour Row\n10117 Kilnhaven")
        instrument = factories.instrument(who, colour="tobacco burst")
        more = {"state": state} if state else {}
        made = money_builders.order(
            self.counter, lines=lines, instrument=instrument, complaint=STORY, came_with="Hard case, strap, two keys",
            condition="Played in; the lacquer is checked around the bridge.", promised_on=date(2026, 12, 4),
            intake_terms="We do only what was agreed. What is not collected in three months may cost storage.",
            rack_slot="B2", **more, **fields,
        )  # fmt: skip
        return self.numbered(made)

    def numbered(self, order):
        order.number = f"26-{self.number:04d}"
        order.save(update_fields=["number"])
        return order

    def invoice(self):
        order = self.order()
        billing.receive(order, amount=Decimal("50"), kind="cash", key=money_builders.key(), by=self.counter)
        return billing.issue(order, by=self.counter)

    def of_invoice(self):
        return billing_papers.invoice_pdf(self.invoice(), self.workshop)

    def of_credit_note(self):
        note = billing.credit(self.invoice(), reason="One string set too many was billed.", by=self.counter)
        return billing_papers.invoice_pdf(note, self.workshop)

    def of_quote(self):
        order = self.order(lines=LINES[:1])
        for text, price, *rest in LINES[1:]:
            money_builders.line(order, text, price, *rest, agreement=Agreement.PROPOSED)
        return papers.quote_pdf(order, self.workshop, date(2026, 12, 25))

    def of_receipt(self):
        order = self.order()
        for x, y, side, note in ((0.62, 0.7, "front", "small dent"), (0.5, 0.55, "back", "buckle rash")):
            ConditionMark.objects.create(order=order, x=x, y=y, side=side, note=note)
        return papers.receipt_pdf([order], self.workshop)

    def of_label(self):
        return tags.render([self.order()], self.workshop, size="label")

    def of_card(self):
        return tags.render([self.order()], self.workshop, size="a6")

    def of_handover_sheet(self):
        return papers.handover_pdf(self.set_up(), self.workshop)

    def set_up(self, **fields):
        """An order whose worksheet is signed off, with photographs of before and after."""
        self.number += 1
        given = {
            "lines": LINES, "complaint": STORY, "next_check_on": date(2027, 6, 1),
            "watch": "The first fret shows wear; it will want dressing in a year or two.",
        } | fields  # fmt: skip
        order = self.numbered(handover_builders.checked(self.counter, self.bench, **given))
        order.lines.filter(text__startswith="String").update(kind="strings")
        for step, colour in (("", "#8a6d4b"), ("", "#6d5538"), ("left", "#4b6d8a"), ("left", "#38556d")):
            caption = "After: strings on" if step else ""
            Photo.objects.create(order=order, step=step, caption=caption, by=self.bench, file=photograph(colour))
        return order

    def of_journal(self):
        for _ in range(3):
            self.invoice()
        billing.credit(self.invoice(), reason="Wrong strings.", by=self.counter)
        return statements.journal_pdf(Month(2026, 11), self.workshop)

    def of_reminder(self):
        invoice = self.invoice()
        return letters.reminder_pdf(invoice, "second-reminder", self.workshop)

    def of_statement(self):
        invoice = self.invoice()
        customer = invoice.customer
        for _ in range(2):
            self.number += 1
            order = money_builders.order(self.counter, lines=LINES, instrument=invoice.order.instrument)
            billing.issue(self.numbered(order), by=self.counter)
        return statements.statement_pdf(customer, self.workshop)


KINDS = [name.removeprefix("of_") for name in vars(Papers) if name.startswith("of_")]


def photograph(colour, size=(1600, 1200)):
    """A picture with something to see at its edges, so that a wrong turn or cut shows."""
    picture = Image.new("RGB", size, colour)
    pen = ImageDraw.Draw(picture)
    pen.rectangle((20, 20, size[0] - 20, size[1] - 20), outline="white", width=12)
    pen.polygon([(60, 60), (360, 60), (60, 360)], fill="white")
    kept = io.BytesIO()
    picture.save(kept, "JPEG", quality=85)
    return ContentFile(kept.getvalue(), name="picture.jpg")
