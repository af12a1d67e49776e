"""Several people remind of the same invoices at the same moment, in processes of their own: each goes once."""

from tests.processes import ShopOnDisk

SET_UP = """
from datetime import timedelta
from shop.billing import services as billing
from shop.handover import making
from shop.lib.dates import today
from tests import factories, money_builders
import shop.billing.services.issuing as issuing
cleo = factories.cleo()
issuing.today = lambda: today() - timedelta(days=60)
for number in range(3):
    who = factories.customer(f"Person {number}", email=f"person{number}@example.com")
    invoice = billing.issue(money_builders.order(cleo, instrument=factories.instrument(who)), by=cleo)
    making.invoice_paper(invoice, by=cleo)
"""
REMIND = """
from shop.billing.models import Invoice
from shop.handover import dunning
from shop.staff.models import Person
print(dunning.remind_all(list(Invoice.objects.issued().order_by("pk")), by=Person.objects.get(username="cleo")).queued)
"""
COUNT = """
from shop.handover.models import OutgoingMail, Reminder
to = sorted(OutgoingMail.objects.values_list("to", flat=True))
print(OutgoingMail.objects.count(), Reminder.objects.count(), *to)
"""


def test_each_invoice_is_reminded_of_once(tmp_path):
    shop = ShopOnDisk(tmp_path)
    shop.say(SET_UP)
    queued = [int(output) for output in shop.run((REMIND,), (REMIND,), (REMIND,))]
    assert sum(queued) == 3
    assert shop.say(COUNT).split() == ["3", "3", *[f"person{number}@example.com" for number in range(3)]]
    assert shop.say(REMIND) == "0"
