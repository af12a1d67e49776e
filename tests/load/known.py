"""`python -m tests.load.known`: what people may ask for in the workshop that is set, drawn by lot, as JSON."""

import json
import os
import sys

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shop.settings")
django.setup()

from shop.billing.models import Invoice  # noqa: E402 (models need the settings)
from shop.orders.models import Agreement, Hold, WorkOrder  # noqa: E402
from shop.orders.states import State  # noqa: E402
from shop.people.models import Customer  # noqa: E402
from shop.worksheets.models import Worksheet  # noqa: E402

PLACES = 400


def some(rows, name):
    return list(rows.order_by("?").values_list(name, flat=True)[:PLACES])


def known():
    orders = WorkOrder.objects.all()
    unbilled = orders.open().filter(invoices=None, lines__agreement=Agreement.AGREED).values("pk")
    held = Hold.objects.filter(lifted_at=None).values("order")
    return {
        "how_many": orders.count(),
        "orders": some(orders, "number"),
        "names": some(Customer.objects.all(), "name"),
        "sheets": some(Worksheet.objects.filter(signed_at=None, family="two_post_stop"), "pk"),
        "unbilled": some(orders.filter(pk__in=unbilled), "number"),
        "invoices": some(Invoice.objects.filter(number__isnull=False), "pk"),
        "checked": some(orders.filter(state=State.CHECKED).exclude(pk__in=held), "number"),
    }


if __name__ == "__main__":
    json.dump(known(), sys.stdout)
