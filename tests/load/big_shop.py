"""A workshop of many years: hundreds of thousands of orders, copied in bulk from rows that the demo's services wrote.

`python -m tests.load --orders 500000 --customers 200000` builds one in the data folder or database that is set.
One order in a hundred, and each open one, keeps its worksheet with all readings; the others keep their lines, invoice,
payment and first events.
"""

import random
import uuid
from datetime import date, timedelta

from django.core.management import call_command

from shop.billing.models import Balance, Invoice, InvoiceLine, Payment
from shop.figures.demo import cast
from shop.figures.models import KeptSum, Touched
from shop.instruments.models import Instrument, SpecValue
from shop.lib.folding import digits_of, folded, serial_key
from shop.orders.models import Event, Hold, Line, WorkOrder
from shop.orders.states import State
from shop.people.models import Customer
from shop.staff.models import Branch, Person, Series
from shop.worksheets.models import Reading, StepMark, Worksheet
from tests.load import trail
from tests.load.bulk import Mould, Writer, moulds
from tests.load.visits import Visit, is_plain

# Parents first.
TABLES = (Customer, Instrument, SpecValue, WorkOrder, Line, Event, Hold, Payment, Invoice, InvoiceLine, Balance,
          Worksheet, StepMark, Reading, *trail.TABLES)  # fmt: skip
YEARS = 10
FIRST_COUNT = 10_000  # the copies' numbers stand clear of the demo's
ONE_SHEET_IN = 100
ONE_OPEN_IN = 250  # about as many as are in the house at once, when all come in ten years and stay for two weeks
SYLLABLES = ("bar", "den", "fel", "gor", "hal", "jun", "kes", "lor", "mar", "nev", "oss", "pel", "quin", "ras", "sel",
             "tor", "ul", "ver", "wen", "yar", "zel")  # fmt: skip


def build(*, orders=500_000, customers=200_000, seed=1, say=lambda _text: None):
    """Fill the database up to `orders` and `customers`. Returns {name of the model: rows}."""
    call_command("migrate", verbosity=0)
    if not Person.objects.exists():
        call_command("load_demo", orders=40, seed=seed, verbosity=0)
    shop = BigShop(random.Random(seed), say)
    shop.add_customers(customers - Customer.objects.count())
    shop.add_orders(orders - WorkOrder.objects.count())
    shop.finish()
    return {model.__name__: model.objects.count() for model in TABLES}


def surname(chance):
    return "".join(chance.choices(SYLLABLES, k=3)).capitalize()


class BigShop:
    def __init__(self, chance, say):
        self.chance, self.say = chance, say
        self.writer = Writer(*TABLES)
        self.taken = {}  # series' key → the highest number that a copy has
        self.owned = list(Instrument.objects.values_list("pk", "customer_id"))
        self.customers = [Mould(one) for one in Customer.objects.all()]
        self.instruments = [(Mould(one), moulds(one.spec_values.all())) for one in Instrument.objects.all()]
        self.tracks = trail.Tracks(self._copy_child)
        demo = WorkOrder.objects.order_by("pk")
        self.closed = [Visit(one) for one in demo.filter(state=State.COLLECTED)[:24] if is_plain(one)]
        self.open = [Visit(one) for one in demo.open()[:16] if is_plain(one)]

    def add_customers(self, count):
        """Customers with invented names, each with an instrument, every fifth with two."""
        for number in range(count):
            pk, name = self.writer.new_pk(Customer), f"{self.chance.choice(cast.FIRST)} {surname(self.chance)}"
            email = f"{folded(name).replace(' ', '.')}{number}@example.com"
            phone = f"+44 1632 960{number % 1000:03d}" if number % 4 == 0 else ""
            digits = digits_of(phone)
            key = folded(f"{name} {digits} {email}")
            self._copy(
                self.chance.choice(self.customers), id=pk, name=name, email=email, phone=phone, phone_digits=digits,
                search_key=key,
            )  # fmt: skip
            for _ in range(2 if number % 5 == 0 else 1):
                self._add_instrument(pk, key)
            self._breathe(f"{number} of {count} customers")

    def _add_instrument(self, customer, whose):
        (mould, specs), pk = self.chance.choice(self.instruments), self.writer.new_pk(Instrument)
        one = mould.instance
        serial = f"{self.chance.choice('KLMT')}{self.chance.randint(10, 99)}-{self.chance.randint(1000, 99999)}"
        key = folded(" ".join([one.maker, one.model_name, serial, serial_key(serial), one.colour, whose]))
        self._copy(mould, id=pk, customer_id=customer, serial=serial, serial_key=serial_key(serial), search_key=key)
        for spec in specs:
            self._copy_child(spec, 0, instrument_id=pk)
        self.owned.append((pk, customer))

    def add_orders(self, count):
        """Finished orders, evenly over the years, then those that are in the house now."""
        finished = count - count // ONE_OPEN_IN
        for number in range(finished):
            ago = 30 + int(365 * YEARS * (1 - number / finished))
            visit = self.chance.choice(self.closed)
            later = (date.today() - visit.order.instance.booked_at.date()).days - ago
            self._add_order(visit, later, with_sheets=number % ONE_SHEET_IN == 0)
            self._breathe(f"{number} of {count} orders")
        for _ in range(count - finished):
            self._add_order(self.chance.choice(self.open), 0, with_sheets=True)
            self._breathe(f"{count} of {count} orders")

    def _add_order(self, visit, later, *, with_sheets):
        """A copy of `visit`, `later` days after it."""
        pk, (instrument, customer) = self.writer.new_pk(WorkOrder), self.chance.choice(self.owned)
        booked_on, came = visit.order.instance.booked_at.date() + timedelta(days=later), uuid.uuid4().hex
        number = self._number(f"orders-{booked_on:%y}", f"{booked_on:%y}-")
        self._copy(
            visit.order, later_days=later, id=pk, customer_id=customer, instrument_id=instrument,
            number=number, draft_key=uuid.uuid4().hex, visit=came,
        )  # fmt: skip
        lines = {mould.instance.pk: self._copy_child(mould, later, order_id=pk) for mould in visit.lines}
        for mould in [*visit.events, *visit.holds]:
            self._copy_child(mould, later, order_id=pk)
        for payment in visit.payments:
            self._copy_child(payment, later, order_id=pk, key=uuid.uuid4().hex)
        invoices = {
            one.mould.instance.pk: self._add_invoice(one, later, order_id=pk, customer_id=customer)
            for one in visit.invoices
        }
        self.tracks.add(
            visit.trail, later, order=pk, number=number, visit=came, customer=customer, lines=lines, invoices=invoices
        )
        for sheet in visit.sheets if with_sheets else ():
            self._add_sheet(sheet, later, order_id=pk)

    def _add_invoice(self, invoice, later, **parents):
        number = None
        if invoice.mould.instance.issued_on:
            day = invoice.mould.instance.issued_on + timedelta(days=later)
            number = self._number(f"invoices-{day:%Y}", f"R{day:%y}-")
        pk = self._copy_child(invoice.mould, later, number=number, **parents)
        for line in invoice.lines:
            self._copy_child(line, later, invoice_id=pk)
        for balance in invoice.balances:
            self._copy(balance, later_days=later, invoice_id=pk)
        return pk

    def _add_sheet(self, sheet, later, **parents):
        pk, new = self._copy_child(sheet.mould, later, **parents), {}
        for mark in sheet.marks:
            self._copy_child(mark, later, worksheet_id=pk)
        for reading in sheet.readings:
            one = reading.instance
            new[one.pk] = self._copy_child(
                reading, later, worksheet_id=pk, client_id=uuid.uuid4().hex, replaces_id=new.get(one.replaces_id)
            )

    def _number(self, series, prefix):
        self.taken[series] = self.taken.get(series, FIRST_COUNT) + 1
        return f"{prefix}{self.taken[series]:04d}"

    def _copy(self, mould, **changes):
        self.writer.add(mould.model, mould.copy(**changes))

    def _copy_child(self, mould, later, **changes):
        pk = self.writer.new_pk(mould.model)
        self._copy(mould, later_days=later, id=pk, **changes)
        return pk

    def _breathe(self, done):
        if self.writer.is_full:
            self.writer.write()
            self.say(done)

    def finish(self):
        self.writer.finish()
        for one in (KeptSum, Touched):  # millions of notes, about sums that are all made anew
            one.objects.all()._raw_delete("default")
        for key, last in self.taken.items():
            Series.objects.update_or_create(key=key, branch=Branch.first(), defaults={"last": last})
