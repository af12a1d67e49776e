"""The places in the head of every page, and who sees them."""

from dataclasses import dataclass

from django.urls import reverse

# (name, URL name, capability). A place further left is nearer to the day's work.
PLACES = (
    ("Counter", "counter", "book in"),
    ("Bench", "bench", "see worksheets"),
    ("Orders", "orders", "see orders"),
    ("Customers", "customers", "see customers"),
    ("Invoices", "invoices", "see money"),
    ("Mail", "mail", "see mail"),
    ("Prices", "prices", "see prices"),
    ("Stock", "shelf", "see prices"),
    ("Figures", "figures", "see figures"),
    ("Office", "office", "see orders"),
)
# Pages whose address lies in no place, and the place that people look for them in.
BELONGS = {"/calendar/": "/office", "/bench-hours/": "/office", "/instruments/": "/customers", "/photos/": "/orders"}


@dataclass(frozen=True)
class Place:
    name: str
    address: str
    here: bool


def places_for(capabilities, path):
    """The places this person may go to; the one that `path` lies in is marked."""
    addresses = [(name, reverse(view)) for name, view, needs in PLACES if needs in capabilities]
    path = next((belongs + path for prefix, belongs in BELONGS.items() if path.startswith(prefix)), path)
    within = max((address for _, address in addresses if path.startswith(address)), key=len, default=None)
    return [Place(name, address, address == within) for name, address in addresses]
