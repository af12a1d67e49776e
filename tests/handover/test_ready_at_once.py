"""Two people press at the same moment: one hand-over, one invoice, one mail."""

from tests.processes import ShopOnDisk

SET_UP = """
from tests import factories, money_builders as build
build.order(factories.cleo())
"""
PRESS = """
from shop.handover import papers, services
from shop.orders.models import WorkOrder
from shop.staff.models import Person
papers.handover_pdf = papers.invoice_pdf = lambda *_: b"%PDF-1.7"
done = services.make_ready(WorkOrder.objects.get(), by=Person.objects.get())
print(len(done.papers))
"""
LEFT = """
from shop.billing.models import Invoice
from shop.handover.models import OutgoingMail, Paper
from shop.orders.models import WorkOrder
kinds = sorted(Paper.objects.values_list("kind", flat=True))
print(WorkOrder.objects.get().state, Invoice.objects.count(), kinds, OutgoingMail.objects.count())
"""


def test_four_presses_make_it_ready_once(tmp_path):
    shop = ShopOnDisk(tmp_path)
    shop.say(SET_UP)
    said = shop.run((PRESS,), (PRESS,), (PRESS,), (PRESS,))
    assert sorted(int(output) for output in said) == [0, 0, 0, 2]
    assert shop.say(LEFT) == "ready 1 ['handover', 'invoice'] 1"
