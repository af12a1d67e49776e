"""Papers that add up what other papers say: the month's journal, and the statement of what a customer owes."""

from decimal import Decimal

from shop.billing import journal, letterhead
from shop.billing.models import Invoice
from shop.lib.dates import today
from shop.lib.stationery import paper_pdf
from shop.staff.models import Branch

MOST_ROWS = 2000  # some fifty pages; a longer month has its table


class TooLong(ValueError):
    """The message is a sentence for people."""


def journal_pdf(month, workshop):
    """The month's journal on paper, in bytes. Raises TooLong beyond MOST_ROWS."""
    if journal.papers_of(month).count() > MOST_ROWS:
        raise TooLong(f"More than {MOST_ROWS} papers do not go on paper; take the table for a spreadsheet.")
    found = list(journal.entries(month))
    context = letterhead.head_of(workshop) | {
        "month": month, "entries": found, "sums": journal.sums_of(found), "moved": journal.moved(month),
        "kept_by": Branch.objects.filter(pk__in=month.branches) if month.branches else (),
        "is_running": month.last >= today(), "made_on": today(), "currency": workshop.currency,
    }  # fmt: skip
    return paper_pdf("journal", context, size=workshop.paper)


def owed_by(customer, person=None):
    """The invoices of `customer` of which something is open, the longest due first; for `person`, those they see."""
    rows = Invoice.objects.all() if person is None else Invoice.objects.for_person(person)
    return list(rows.unpaid().with_parties().select_related("order__instrument").filter(customer=customer))


def sums_of(rows):
    """{currency: what is open in it}."""
    sums = {}
    for one in rows:
        sums[one.currency] = sums.get(one.currency, Decimal(0)) + one.balance.open_amount
    return sums


def statement_pdf(customer, workshop, rows=None):
    """Everything that `customer` owes today on paper, in bytes; `rows` as `owed_by` gives them."""
    rows = owed_by(customer) if rows is None else rows
    sums = sums_of(rows)
    context = letterhead.head_of(workshop) | {
        "buyer": letterhead.addressed(letterhead.buyer_of(customer)), "rows": rows, "sums": sums,
        "made_on": today(),
    }  # fmt: skip
    return paper_pdf("statement", context, size=workshop.paper)
