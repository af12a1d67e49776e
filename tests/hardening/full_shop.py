"""A shop full of work, and every address of the app for several of the things in it."""

from itertools import product

from django.test import override_settings
from django.urls import reverse

from shop.billing.models import Invoice
from shop.figures.carrying.kinds import KINDS
from shop.figures.demo.load import load
from shop.handover import wordings
from shop.handover.models import OutgoingMail, Paper
from shop.instruments.models import Instrument
from shop.orders import services as orders
from shop.orders.models import Line, WorkOrder
from shop.people.models import Customer
from shop.staff.models import KeptView, Person
from shop.stock.models import PriceItem, Supplier
from shop.worksheets.models import Reading, TargetProfile, Worksheet
from tests.every_address import OTHERS, PK, SHEETS, named_addresses
from tests.hardening import probes, rare_rows

ENDS = {"sign-out", "lock"}  # the visit would be over
MODELS = {
    "customer": Customer, "instrument": Instrument, "invoice": Invoice, "mail": OutgoingMail, "paper": Paper,
    "person": Person, "profile": TargetProfile, "part": PriceItem, "price": PriceItem, "supplier": Supplier,
    "order": WorkOrder, "sheet": Worksheet, "signed": Worksheet, "line": Line, "view": KeptView,
}  # fmt: skip
ALL_STEPS, ALL_STATES = {"worksheet-step"}, {"order", "order-money"}
QUERIES = {"find": ("?q=Reed", "?q=26-"), "counter-found": ("?q=Reed",), "counter": ("", "?new=Jo")}
BY_SCRIPT = {"step-live": {"Accept": "application/json"}}


class Papers(list):
    """Stands in for the renderer: keeps the HTML of each paper."""

    def __call__(self, markup, **_options):
        self.append(markup)
        return b"%PDF-1.7\n%%EOF\n"


def fill():
    """Load the demo's work and what it has none of. Papers are made anew when they are next asked for."""
    with override_settings(MAIL_IS_LOCAL=True):
        load(orders=17, seed=5)
    rare_rows.make()
    probes.let_frozen_rows_change()
    Paper._base_manager.update(about="")


def addresses():
    """(name, path) of every address, for up to three of the things that each can name."""
    for name, arguments in named_addresses().items():
        if name not in ENDS:
            for values in product(*(list(choices(name, argument)) for argument in arguments)):
                path = reverse(name, kwargs=dict(zip(arguments, values, strict=True)))
                for query in QUERIES.get(name, ("",)):
                    yield name, path + query
    reading = Reading.objects.exclude(raw="").order_by("-pk").first()
    place = f"?key={reading.key}&string={reading.string or ''}&stage={reading.stage}"
    yield "reading-history", reverse("reading-history", args=[reading.worksheet_id, reading.step]) + place


def choices(name, argument):
    """What to put in the place of one argument."""
    if argument == "number":
        seen = {order.state: order.number for order in WorkOrder.objects.order_by("-pk")}
        return list(seen.values())[: None if name in ALL_STATES else 2]
    if argument == "pk":
        kind = PK.get(name) or ("sheet" if name in SHEETS else name.split("-")[0])
        rows = MODELS[kind]._base_manager if kind in MODELS else WorkOrder.objects.none()
        most = 1 if name in ALL_STEPS else 2
        return list(rows.order_by("-pk").values_list("pk", flat=True)[:most]) or [0]
    if argument == "step" and name in ALL_STEPS:
        return [step.key for step in Worksheet.objects.order_by("-pk").first().family_plan.steps]
    if argument == "token" and name.startswith("customer"):
        return [orders.token_of(orders.link_for_mail(one, by=one.booked_by)) for one in WorkOrder.objects.all()[:4]]
    if argument == "other":
        return [MODELS[PK[name]]._base_manager.earliest("pk").pk]
    if argument == "kind" and name.startswith("import"):
        return list(KINDS)
    return list(wordings.MAILS) if argument == "which" else [OTHERS[argument]]
