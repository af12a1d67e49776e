"""The worker against a real mail server: sent, refused, tried again, given up."""

import smtplib
from datetime import timedelta

import pytest
from django.utils import timezone

from shop.handover import mails, outbox, queue, services
from shop.handover.models import MailState, OutgoingMail, SilencedAddress
from tests import money_builders


@pytest.fixture
def mail(cleo):
    return mails.receipt([money_builders.order(cleo)], by=cleo)


@pytest.fixture(autouse=True)
def quick_papers(monkeypatch):
    """Receipts need not be laid out here."""
    monkeypatch.setattr("shop.handover.papers.receipt_pdf", lambda *_: b"%PDF-1.7 a receipt")


def now(mail):
    return OutgoingMail.objects.get(pk=mail.pk)


def skip_the_wait():
    OutgoingMail.objects.update(next_try_at=timezone.now())


def test_it_is_sent_with_its_papers_byte_for_byte(cleo, order, mailbox):
    done = services.make_ready(order, by=cleo)
    assert outbox.deliver() == 1
    (message,) = mailbox.taken
    assert now(done.mail).state == MailState.SENT
    sent = {part.get_filename(): part.get_payload(decode=True) for part in message.iter_attachments()}
    assert sent == {paper.name: paper.read() for paper in done.papers}
    assert mailbox.envelopes == [("workshop@localhost", ["mara@example.com"])]


def test_the_receipts_pdf_is_made_before_it_is_sent(mail, mailbox):
    outbox.deliver()
    (attached,) = mailbox.taken[0].iter_attachments()
    assert attached.get_payload(decode=True) == now(mail).papers.get().read() == b"%PDF-1.7 a receipt"


def test_it_has_text_and_html_and_its_own_id(mail, mailbox):
    outbox.deliver()
    (message,) = mailbox.taken
    assert message["Message-ID"] == mail.message_id
    assert message["Subject"] == mail.subject
    assert message.get_body(("plain",)).get_content().startswith("Dear Mara Fell,")
    assert "Dear Mara Fell," in message.get_body(("html",)).get_content()


def test_a_second_round_sends_nothing_twice(mail, mailbox):
    assert (outbox.deliver(), outbox.deliver()) == (1, 0)
    assert len(mailbox.taken) == 1


def test_an_unknown_address_fails_at_once_and_is_silenced(mail, mailbox, cleo):
    mailbox.mood = "unknown"
    outbox.deliver()
    assert now(mail).state == MailState.FAILED
    assert now(mail).last_error == (
        "The mail server refuses mara@example.com for good: 550 5.1.1 no such user here"
    )
    assert SilencedAddress.objects.get().address == "mara@example.com"
    assert mails.why_not(mail.customer).startswith("Nothing is sent to mara@example.com any more")
    assert mails.receipt([mail.order], by=cleo) is None


def test_greylisting_is_waited_out(mail, mailbox):
    mailbox.mood, mailbox.times = "greylists", 2
    for _ in range(3):
        outbox.deliver()
        skip_the_wait()
    assert (now(mail).state, now(mail).attempts, len(mailbox.taken)) == (MailState.SENT, 3, 1)
    outcomes = [one.outcome for one in now(mail).tries.all()]
    assert ["greylisted" in one for one in outcomes] == [True, True, False]


def test_a_rejected_mail_fails_but_its_address_stays_good(mail, mailbox):
    mailbox.mood = "rejects"
    outbox.deliver()
    assert now(mail).state == MailState.FAILED
    assert "554 5.6.0 this is not wanted here" in now(mail).last_error
    assert not SilencedAddress.objects.exists()


@pytest.mark.parametrize("mood", ["full", "drops"])
def test_what_may_pass_is_tried_again_later(mail, mailbox, mood):
    mailbox.mood = mood
    outbox.deliver()
    assert now(mail).state == MailState.WAITING
    assert now(mail).next_try_at > timezone.now() + timedelta(seconds=50)
    mailbox.mood = "takes"
    assert outbox.deliver() == 0
    skip_the_wait()
    outbox.deliver()
    assert now(mail).state == MailState.SENT


def test_a_server_that_is_down_is_tried_with_growing_waits_then_given_up(mail, mailbox):
    mailbox.stop()
    waits = []
    for _ in range(outbox.MOST_TRIES):
        begun = timezone.now()
        outbox.deliver()
        waits.append(round((now(mail).next_try_at - begun).total_seconds() / 60))
        skip_the_wait()
    assert waits[:-1] == [1, 5, 15, 60, 180, 720, 1440]
    assert now(mail).state == MailState.FAILED
    assert now(mail).last_error.startswith("The mail server cannot be reached: ")


def test_one_server_that_is_down_is_asked_once_a_round(cleo, mail, mailbox):
    second = mails.receipt([money_builders.order(cleo, instrument=mail.order.instrument)], by=cleo)
    mailbox.stop()
    assert outbox.deliver() == 1
    assert (now(mail).attempts, now(second).attempts) == (1, 0)


def test_a_failed_mail_can_be_put_in_the_queue_again(cleo, mail, mailbox):
    mailbox.mood = "rejects"
    outbox.deliver()
    mailbox.mood = "takes"
    queue.try_again(mail, by=cleo)
    outbox.deliver()
    assert (now(mail).state, now(mail).last_error) == (MailState.SENT, "")
    assert mailbox.taken[0]["Message-ID"] == mail.message_id


def test_a_fault_of_ours_does_not_stop_the_others(cleo, mail, mailbox, monkeypatch, caplog):
    second = mails.receipt([money_builders.order(cleo, instrument=mail.order.instrument)], by=cleo)
    real = outbox.making.make_what_it_carries

    def trips(held):
        if held.pk == mail.pk:
            raise RuntimeError("something odd")
        real(held)

    monkeypatch.setattr(outbox.making, "make_what_it_carries", trips)
    assert outbox.deliver() == 2
    assert (now(mail).state, now(second).state) == (MailState.WAITING, MailState.SENT)
    assert "something odd" in caplog.text


def test_smtplib_still_says_what_is_read_here():
    """The classes that the reasons are read from, so that a change of the library is noticed."""
    assert issubclass(smtplib.SMTPRecipientsRefused, smtplib.SMTPException)
    assert issubclass(smtplib.SMTPDataError, smtplib.SMTPResponseException)
