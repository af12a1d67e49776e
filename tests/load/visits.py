"""Visits of the demo workshop, each with all its rows as moulds."""

from shop.billing.models import Balance, InvoiceKind
from tests.load.bulk import Mould, moulds
from tests.load.trail import Trail

EVENTS_KEPT = 4


class Visit:
    """One work order with everything that is copied along with it."""

    def __init__(self, order):
        self.order = Mould(order)
        self.lines = moulds(order.lines.all())
        self.events = moulds(order.events.all()[:EVENTS_KEPT])
        self.holds = moulds(order.holds.all())
        self.payments = moulds(order.payments.all())
        self.invoices = [InvoiceParts(one) for one in order.invoices.all()]
        self.sheets = [SheetParts(one) for one in order.worksheets.all()]
        self.trail = Trail(order)


class InvoiceParts:
    def __init__(self, invoice):
        self.mould = Mould(invoice)
        self.lines = moulds(invoice.lines.all())
        self.balances = moulds(Balance.objects.filter(invoice=invoice))


class SheetParts:
    def __init__(self, sheet):
        self.mould = Mould(sheet)
        self.marks = moulds(sheet.marks.all())
        self.readings = moulds(sheet.readings.all())


def is_plain(order):
    """Without rows that point at one another, which a copy would have to follow."""
    corrected = order.invoices.filter(kind=InvoiceKind.CREDIT_NOTE).exists()
    return not corrected and not order.payments.filter(undoes__isnull=False).exists()
