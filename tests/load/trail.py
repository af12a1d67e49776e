"""What a visit leaves behind: marks, links, what came off the shelf, papers, mails, and what was written down of it."""

import uuid

from shop.handover.models import MailTry, OutgoingMail, Paper, PaperKind
from shop.lib.folding import folded
from shop.orders.models import ConditionMark, CustomerLink
from shop.staff.models import AuditEntry
from shop.stock.levels import on_hand
from shop.stock.models import Movement, PriceItem
from tests.load.bulk import moulds

ENCLOSED = OutgoingMail.papers.through
TABLES = (ConditionMark, CustomerLink, Movement, Paper, OutgoingMail, MailTry, ENCLOSED, AuditEntry)
A_DELIVERY = 60  # of an item, once it has run out


class Trail:
    """The rows beside those of an order itself, as moulds."""

    def __init__(self, order):
        self.number = order.number
        self.marks = moulds(order.marks.all())
        self.links = moulds(order.links.all())
        self.movements = moulds(Movement.objects.filter(order_number=order.number).order_by("pk"))
        self.papers = moulds(order.papers.order_by("pk"))
        self.mails = [MailParts(one) for one in order.mails.order_by("pk")]
        self.entries = moulds(AuditEntry.objects.filter(text__startswith=f"{order.number}:").order_by("pk"))


class MailParts:
    def __init__(self, mail):
        self.mould, self.tries = moulds([mail])[0], moulds(mail.tries.all())
        self.enclosed = moulds(ENCLOSED.objects.filter(outgoingmail=mail))


class Tracks:
    """Copies trails. `copy` is how a row is copied: (mould, days later, changes) → its key."""

    def __init__(self, copy):
        self.copy = copy
        self.lie = {item: on_hand(PriceItem(pk=item)) for item in PriceItem.objects.values_list("pk", flat=True)}
        self.delivery = moulds(Movement.objects.filter(kind="received")[:1])

    def add(self, trail, later, *, order, number, visit, customer, lines, invoices):
        """`lines` and `invoices` are {key of the visit's own: key of the copy}."""
        for mould in trail.marks:
            self.copy(mould, later, order_id=order)
        for mould in trail.links:
            self.copy(mould, later, order_id=order, key=f"{uuid.uuid4().hex}{order}"[:43])
        for mould in trail.movements:
            self._use(mould, later, order_number=number, line_key=lines.get(mould.instance.line_key))
        papers = {one.instance.pk: self._paper(one, later, order, visit, invoices) for one in trail.papers}
        for mail in trail.mails:
            self._mail(mail, later, order, customer, papers)
        for mould in trail.entries:
            text = mould.instance.text.replace(trail.number, number)
            self.copy(mould, later, text=text, search_key=folded(text))

    def _use(self, mould, later, **changes):
        item = mould.instance.item_id
        self._move(mould, later, item, mould.instance.quantity, **changes)
        if self.lie[item] < 0:
            for delivery in self.delivery:
                self._move(delivery, later, item, A_DELIVERY, item_id=item)

    def _move(self, mould, later, item, quantity, **changes):
        self.lie[item] = self.lie.get(item, 0) + quantity
        figures = {"quantity": str(quantity), "after": str(self.lie[item])}
        self.copy(mould, later, key=uuid.uuid4().hex, **figures, **changes)

    def _paper(self, mould, later, order, visit, invoices):
        kind, about = mould.instance.kind, ""
        if kind == PaperKind.RECEIPT:
            about = f"receipt:{visit}"
        elif kind == PaperKind.INVOICE:
            about = f"invoice:{invoices[int(mould.instance.about.removeprefix('invoice:'))]}"
        return self.copy(mould, later, order_id=order, about=about)

    def _mail(self, mail, later, order, customer, papers):
        key = self.copy(
            mail.mould, later, order_id=order, customer_id=customer, message_id=f"<{uuid.uuid4().hex}@example.com>"
        )
        for mould in mail.tries:
            self.copy(mould, later, mail_id=key, claim=uuid.uuid4().hex)
        for mould in mail.enclosed:
            self.copy(mould, later, outgoingmail_id=key, paper_id=papers[mould.instance.paper_id])
