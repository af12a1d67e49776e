"""Reminders as letters, for those whom no mail reaches."""

from decimal import Decimal

import pytest
from django.urls import reverse

from shop.billing import services as billing
from shop.handover import dunning, letters, rewording
from shop.handover.models import OutgoingMail, Paper, PaperKind, Reminder
from shop.orders.models import Event
from shop.orders.services import NotAllowed
from tests import factories, money_builders
from tests.papers.printed import by_pdfium


def printed(content):
    return " ".join(by_pdfium(content).split())


GERMAN_IBAN = "DE89 3704 0044 0532 0130 00"  # the example of the ISO 13616 registry


@pytest.fixture
def invoice(cleo):
    factories.workshop(payment_days=14, email="workshop@example.com", iban=GERMAN_IBAN)
    instrument = factories.instrument(factories.customer(email=""))
    return billing.issue(money_builders.order(cleo, instrument=instrument), by=cleo)


def test_it_counts_as_the_reminder_of_its_level(invoice, on, cleo):
    on(21)
    letter = letters.write(invoice, by=cleo)
    kept = Reminder.objects.get()
    assert (kept.level, kept.letter, kept.mail, kept.open_amount) == (1, letter, None, Decimal("85.00"))
    assert (letter.kind, letter.order) == (PaperKind.REMINDER, invoice.order)
    assert not OutgoingMail.objects.exists()
    with pytest.raises(NotAllowed, match="second reminder may go from"):
        letters.write(invoice, by=cleo)
    on(35)
    assert "second" in letters.write(invoice, by=cleo).name
    assert Event.objects.filter(what="reminded").count() == 2


def test_it_says_what_the_mail_would_say_and_what_is_open(invoice, on, cleo):
    billing.receive(invoice.order, amount=Decimal(20), kind="cash", key=money_builders.key(), by=cleo)
    on(21)
    said = printed(letters.write(invoice, by=cleo).read())
    for words in ("perhaps it slipped by", "Mara Fell", invoice.number, "€85.00", "−€20.00", "€65.00", GERMAN_IBAN):
        assert words in said
    assert "{" not in said


def test_nobody_is_written_to_whose_invoice_is_settled(invoice, on, cleo):
    on(21)
    billing.receive(invoice.order, amount=Decimal(85), kind="cash", key=money_builders.key(), by=cleo)
    with pytest.raises(NotAllowed, match="Nothing of this invoice is open"):
        letters.write(invoice, by=cleo)
    assert not Paper.objects.filter(kind=PaperKind.REMINDER).exists()


def test_what_is_paid_while_it_is_made_stops_it(invoice, on, cleo, monkeypatch):
    on(21)
    real = letters.reminder_pdf

    def slowly(*given):
        billing.receive(invoice.order, amount=Decimal(5), kind="cash", key=money_builders.key(), by=cleo)
        return real(*given)

    monkeypatch.setattr(letters, "reminder_pdf", slowly)
    with pytest.raises(NotAllowed, match="changed meanwhile"):
        letters.write(invoice, by=cleo)
    assert not Reminder.objects.exists()


def test_one_that_was_not_posted_does_not_count(invoice, on, cleo):
    on(21)
    letter = letters.write(invoice, by=cleo)
    letters.take_back(invoice, by=cleo)
    assert not Reminder.objects.exists()
    assert Paper.objects.filter(pk=letter.pk).exists()
    assert letters.write(invoice, by=cleo).pk != letter.pk
    letters.take_back(invoice, by=cleo)
    with pytest.raises(NotAllowed, match="was no letter"):
        letters.take_back(invoice, by=cleo)


def test_a_mail_is_not_taken_back_as_a_letter(invoice, on, cleo):
    customer = invoice.order.customer
    customer.email = "mara@example.com"
    customer.save()
    on(21)
    assert dunning.remind(invoice, by=cleo)
    with pytest.raises(NotAllowed, match="was no letter"):
        letters.take_back(invoice, by=cleo)
    assert Reminder.objects.count() == 1


def test_from_the_list_to_the_letter_and_back(invoice, as_person, on, cleo, ben):
    client, at = as_person(cleo), reverse("reminder-letter", args=[invoice.pk])
    on(21)
    listed = client.get(reverse("reminders")).content.decode()
    assert f'formaction="{at}"' in listed
    assert "Mara Fell has no e-mail address." in listed
    assert "Mail the reminders" not in listed
    page = client.post(at, follow=True).content.decode()
    letter = Paper.objects.get(kind=PaperKind.REMINDER)
    assert "Print it with the invoice, and post both." in page
    assert reverse("paper", args=[letter.pk, letter.name]) in page
    assert client.get(reverse("paper", args=[letter.pk, letter.name])).content == letter.read()
    page = client.post(reverse("reminder-taken-back", args=[invoice.pk]), follow=True).content.decode()
    assert "does not count" in page
    assert not Reminder.objects.exists()
    assert as_person(ben).get(reverse("paper", args=[letter.pk, letter.name])).status_code == 403


def test_what_was_refused_is_said(invoice, as_person, cleo):
    page = as_person(cleo).post(reverse("reminder-letter", args=[invoice.pk]), follow=True).content.decode()
    assert "may go from" in page
    page = as_person(cleo).post(reverse("reminder-taken-back", args=[invoice.pk]), follow=True).content.decode()
    assert "was no letter" in page


def test_a_letter_has_the_shops_own_words(invoice, cleo):
    rewording.reword("reminder", subject="Hello {invoice}", body="Pay {open}.\n\n{facts}\n\nBye", days=7, by=cleo)
    invoice.refresh_from_db()
    said = printed(letters.reminder_pdf(invoice, "reminder", factories.workshop()))
    assert f"Hello {invoice.number}" in said
    assert "Pay €85.00." in said
