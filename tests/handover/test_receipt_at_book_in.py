"""Who leaves an instrument gets a receipt of what was taken in."""

import uuid
from datetime import date

from shop.handover.models import OutgoingMail, PaperKind
from shop.instruments.models import Instrument
from shop.orders.models import ConditionMark
from shop.orders.services import Booking, book_in
from shop.people.models import Customer


def booking(**customer):
    customer = {"name": "Mara Fell", "email": "mara@example.com"} | customer
    return Booking(
        customer=Customer(**customer), instrument=Instrument(maker="Larkrise", model_name="Two-Post", serial="LR-7"),
        complaint="The low string buzzes.", came_with="Hard case", promised_on=date(2026, 12, 4),
        marks=(ConditionMark(x=0.5, y=0.5, side="back", note="buckle rash"),), intake_terms="We ask before we do more.",
        draft_key=uuid.uuid4(),
    )  # fmt: skip


def test_it_is_queued_with_the_book_in(cleo):
    order = book_in(booking(), by=cleo)
    mail = OutgoingMail.objects.get()
    assert (mail.order, mail.to, mail.makes) == (order, "mara@example.com", PaperKind.RECEIPT)
    for said in (
        order.number, "Larkrise Two-Post", "LR-7", "The low string buzzes.", "Hard case", "buckle rash",
        "Fri 4 Dec 2026", "We ask before we do more.",
    ):  # fmt: skip
        assert said in mail.text
        assert said in mail.html


def test_without_an_address_nothing_is_queued(cleo):
    book_in(booking(email=""), by=cleo)
    assert not OutgoingMail.objects.exists()


def test_whoever_does_not_want_mail_gets_none(cleo):
    book_in(booking(mail_agreed=False), by=cleo)
    assert not OutgoingMail.objects.exists()


def test_booking_in_twice_by_one_draft_mails_once(cleo):
    one = booking()
    book_in(one, by=cleo)
    book_in(one, by=cleo)
    assert OutgoingMail.objects.count() == 1
