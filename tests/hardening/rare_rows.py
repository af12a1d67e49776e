"""What the demo workshop has none of, so that every model has a row."""

from django.utils import timezone

from shop.billing.models import Invoice
from shop.handover import services as handover
from shop.handover.models import MailWording, SilencedAddress
from shop.handover.wordings import MAILS
from shop.orders.models import Agreement, Photo, WorkOrder
from shop.orders.plan_models import ClosedDays
from shop.orders.quote_models import Answer
from shop.staff import keeping
from shop.staff.branch_models import Branch
from shop.staff.models import Person
from shop.stock.models import OtherShelf, PriceItem
from shop.worksheets.models import Acceptance, StepNote, Worksheet
from tests import pictures


def make():
    now, ada = timezone.now(), Person.objects.filter(role="owner").first()
    SilencedAddress.objects.create(address="jonas@example.com", reason="Asked for it.", since=now)
    ClosedDays.objects.create(name="Fair", first=now.date(), last=now.date())
    for name in MAILS:
        MailWording.objects.create(name=name, subject="About {order}", body="{facts}", changed_at=now)
    for sheet in Worksheet.objects.all():
        step = sheet.family_plan.steps[0].key
        StepNote.objects.create(worksheet=sheet, step=step, text="Look again.", at=now, by=ada)
        files = {"file": pictures.photo(), "thumb": pictures.photo()}
        Photo.objects.create(order=sheet.order, step=step, caption="Neck", **files)
        Acceptance.objects.create(worksheet=sheet, finding="relief", reason="As wished.", at=now, by=ada)
    keeping.keep(ada, page="orders", query="show=late", name="Late")
    quoted_and_answered(by=ada)
    other_branch()
    handover.credit_invoice(Invoice.objects.issued().last(), reason="Billed twice.", by=ada, send=True)


def other_branch():
    """A second branch, whose own shelf keeps one of the parts, and where work waits as well."""
    there = Branch.objects.create(name="Harbour bench", mark="H", address="2 Quay", rack_slots="H1")
    OtherShelf.objects.create(item=PriceItem.objects.on_shelf().first(), branch=there, place="Drawer 4")
    WorkOrder.objects.filter(pk=WorkOrder.objects.latest("pk").pk).update(branch=there)


def quoted_and_answered(*, by):
    order = WorkOrder.objects.filter(lines__agreement=Agreement.PROPOSED).first()
    handover.mail_quote(order, by=by)
    line, quote = order.lines.first(), order.quotes.first()
    said = {"answer": "agreed", "text": line.text, "name": "Mara", "how": "on the customer’s page", "at": quote.made_at}
    Answer.objects.create(order=order, line=line, quote=quote, **said)
