"""What people do with mails that wait, failed or lie in the outbox."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.handover import mails, outbox, queue
from shop.handover.models import MailState, OutgoingMail, SilencedAddress
from shop.orders.services import NotAllowed
from tests import money_builders as build


@pytest.fixture
def mail(cleo):
    queued = mails.receipt([build.order(cleo)], by=cleo)
    OutgoingMail.objects.update(makes="")
    return queued


def put(mail, **fields):
    OutgoingMail.objects.filter(pk=mail.pk).update(**fields)
    mail.refresh_from_db()


def test_a_failed_one_starts_anew(mail, cleo):
    put(mail, state=MailState.FAILED, attempts=8, cut_offs=2, next_try_at=timezone.now() + timedelta(days=1))
    queue.try_again(mail, by=cleo)
    mail.refresh_from_db()
    assert (mail.state, mail.attempts, mail.cut_offs) == (MailState.WAITING, 0, 0)
    assert mail.next_try_at <= timezone.now()
    assert mail.order.events.last().text.endswith("put in the queue again.")


def test_a_waiting_one_is_tried_at_once(mail, cleo):
    put(mail, next_try_at=timezone.now() + timedelta(hours=5), attempts=3)
    queue.try_again(mail, by=cleo)
    mail.refresh_from_db()
    assert (mail.next_try_at <= timezone.now(), mail.attempts) == (True, 3)


def test_what_a_server_took_is_not_sent_twice(mail, cleo):
    put(mail, state=MailState.SENT)
    with pytest.raises(NotAllowed, match="not sent twice"):
        queue.try_again(mail, by=cleo)


def test_what_lies_in_the_local_outbox_can_go_once_there_is_a_server(mail, cleo):
    put(mail, state=MailState.SENT, is_local=True)
    queue.try_again(mail, by=cleo)
    mail.refresh_from_db()
    assert mail.state == MailState.WAITING


def test_not_to_a_silenced_address(mail, cleo):
    put(mail, state=MailState.FAILED)
    queue.silence(address="Mara@Example.com", reason="No such user.", by=cleo)
    with pytest.raises(NotAllowed, match=r"Nothing is sent to mara@example\.com any more"):
        queue.try_again(mail, by=cleo)


@pytest.mark.parametrize("act", [queue.try_again, queue.withdraw])
def test_hands_off_while_it_is_on_its_way(mail, cleo, act):
    put(mail, claimed_until=timezone.now() + timedelta(minutes=1))
    with pytest.raises(NotAllowed, match="on its way just now"):
        act(mail, by=cleo)


def test_a_withdrawn_one_is_not_sent(mail, cleo, mailbox):
    queue.withdraw(mail, by=cleo)
    assert outbox.deliver() == 0
    assert mailbox.taken == []


def test_what_is_gone_cannot_be_withdrawn(mail, cleo):
    put(mail, state=MailState.SENT)
    with pytest.raises(NotAllowed, match="Only a mail that has not gone yet"):
        queue.withdraw(mail, by=cleo)


def test_buttons_say_what_came_of_it(mail, cleo, as_person):
    client = as_person(cleo)
    answer = client.post(reverse("mail-withdraw", args=[mail.pk]), follow=True)
    assert "The mail is withdrawn; it will not be sent." in answer.content.decode()
    answer = client.post(reverse("mail-again", args=[mail.pk]), follow=True)
    assert "The mail is in the queue again." in answer.content.decode()
    put(mail, state=MailState.SENT)
    answer = client.post(reverse("mail-again", args=[mail.pk]), follow=True)
    assert "it is not sent twice." in answer.content.decode()


def test_an_address_is_silenced_and_lifted(cleo, as_person):
    client = as_person(cleo)
    answer = client.post(reverse("address-silence"), {"address": "Gone@Example.com", "reason": "Asked us to."})
    assert answer.status_code == 302
    silenced = SilencedAddress.objects.get()
    assert (silenced.address, silenced.by) == ("gone@example.com", cleo)
    assert "Asked us to." in client.get(reverse("mail-silenced")).content.decode()
    client.post(reverse("address-lift", args=[silenced.pk]))
    assert not SilencedAddress.objects.exists()


@pytest.mark.parametrize("typed", [{"address": "nobody", "reason": "x"}, {"address": "a@example.com", "reason": ""}])
def test_an_address_needs_to_be_one_and_to_have_a_reason(cleo, as_person, typed):
    assert as_person(cleo).post(reverse("address-silence"), typed).status_code == 422
