"""Writes down what leaves the workshop in bulk, in words for whoever reads the record."""

from shop.staff import audit

# By the name of its address; what stands in the address may be named.
WORDS = {
    "staff-export": "the staff", "branches-export": "the branches", "health-export": "the health of the installation",
    "audit-export": "the record", "customers-export": "the customers", "instruments-export": "the instruments",
    "prices-export": "the price list", "shelf-export": "the stock", "suppliers-export": "the suppliers",
    "part-export": "what came and went of part {pk}", "reorder-export": "what to reorder",
    "closed-export": "the closed days", "orders-export": "the orders", "bench-export": "the bench",
    "profiles-export": "the target profiles", "invoices-csv": "the invoices", "reminders-export": "the reminders",
    "month-csv": "the journal of {year}-{month:02d}", "month-papers": "the papers of {year}-{month:02d}",
    "mail-export": "the mails", "mail-words-export": "the words of mails", "silenced-export": "the silenced addresses",
    "figures-csv": "the figures: {key}", "data-everything": "everything on file",
    "data-cards": "the customers as address cards", "customer-data-zip": "all that is on file about customer {pk}",
}  # fmt: skip


def note(request):
    """One entry for what this request is about to give out."""
    match = request.resolver_match
    audit.write(audit.AuditKind.EXPORT, f"Exported {WORDS[match.url_name].format(**match.kwargs)}.")
