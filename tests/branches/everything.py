"""One of everything that can belong to a branch, all of it in the High Street."""

from decimal import Decimal

from django.core.files.base import ContentFile

from shop.billing import services as billing
from shop.handover import making
from shop.handover import services as handover
from shop.handover.models import OutgoingMail
from shop.orders import services as orders
from shop.orders.models import WorkOrder
from shop.orders.services import NewLine
from shop.orders.states import State
from shop.stock import services as shelf
from shop.worksheets.profiles import ensure_usual_profiles
from tests import counter_builders, factories, handover_builders, money_builders, pictures, stock_builders
from tests import worksheet_builders as bench

TOLD = "Rattles like a loose tile"  # in what the customer says: no page of another branch may say it


def things(two):
    """{what an address names: its key}, by the words of `tests.every_address`."""
    ensure_usual_profiles()
    factories.workshop(name="Hollow Lane", address="4 Hollow Lane", country="DE", tax_number="00/042/08150",
                       iban="DE89370400440532013000")  # fmt: skip
    checked = handover_builders.checked(two.cleo, two.ben, complaint=TOLD, branch=two.street)
    WorkOrder.objects.filter(pk=checked.pk).update(number="26-7001")  # clear of the numbers that are taken below
    checked.refresh_from_db(fields=["number"])
    checked.signature.save("signed.png", ContentFile(pictures.photo().read()))
    handover.make_ready(checked, by=two.cleo)
    paid = billing.receive(checked, amount=Decimal("5.00"), kind="cash", key=money_builders.key(), by=two.cleo)
    item = stock_builders.part()
    shelf.count(item, Decimal(4), by=two.cleo, branch=two.street)
    order = _open(two, checked.instrument, item)
    photo = orders.add_photo(order, pictures.photo(), by=two.cleo)
    mark = orders.add_mark(order, side="front", x=0.5, y=0.5, note_text="dent", by=two.cleo)
    draft = orders.keep_draft_photo(money_builders.key(), pictures.photo(), by=two.cleo)
    return {
        "number": order.number, "order": order.pk, "customer": order.customer_id, "instrument": order.instrument_id,
        "sheet": bench.worksheet(order, two.ben).pk, "signed": checked.worksheets.get().pk,
        "invoice": checked.invoices.issued().get().pk, "payment": paid.pk, "part": item.pk, "price": item.pk,
        "mail": OutgoingMail.objects.filter(order=checked).first().pk, "paper": making.receipt_paper(order).pk,
        "photo": photo.pk, "line": order.lines.get().pk, "condition": mark.pk, "draft": draft.pk,
        "signed number": checked.number,
    }  # fmt: skip


def _open(two, instrument, item):
    """An order on the bench, with a part agreed and taken."""
    booking = counter_builders.booking(
        instrument=instrument, complaint=TOLD, branch=two.street, lines=(NewLine.of(item),), agreed=True
    )
    order = orders.book_in(booking, by=two.cleo, afterwards=())
    orders.take(order.lines.get(), by=two.cleo)
    WorkOrder.objects.filter(pk=order.pk).update(state=State.ON_BENCH)
    order = WorkOrder.objects.get(pk=order.pk)
    order.signature.save("signed.png", ContentFile(pictures.photo().read()))
    return order

