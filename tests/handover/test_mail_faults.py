"""What goes wrong between the worker and a mail server: each case against a real one, on this machine."""

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.handover import mails, outbox, papers, queue
from shop.handover.models import MailState, OutgoingMail, PaperKind
from tests import money_builders


@pytest.fixture
def mail(cleo):
    queued = mails.receipt([money_builders.order(cleo)], by=cleo)
    OutgoingMail.objects.update(makes="")  # no paper to lay out
    return queued


@pytest.fixture
def clock(monkeypatch):
    """Turns the clock of everything: `clock(minutes)` goes on by so many."""
    real, gone = timezone.now, [timedelta(0)]
    monkeypatch.setattr(timezone, "now", lambda: real() + gone[0])

    def go_on(minutes):
        gone[0] += timedelta(minutes=minutes, seconds=1)

    return go_on


def now(mail):
    return OutgoingMail.objects.get(pk=mail.pk)


def outcomes(mail):
    return [one.outcome for one in mail.tries.all()]


def ids(mailbox):
    return [message["Message-ID"] for message in mailbox.taken]


def test_refused_for_now_it_waits_longer_each_time_then_gives_up(mail, mailbox, clock):
    mailbox.mood = "full"
    waits = []
    for _ in range(outbox.MOST_TRIES):
        begun = timezone.now()
        assert outbox.deliver() == 1
        waits.append(round((now(mail).next_try_at - begun).total_seconds() / 60))
        assert outbox.deliver() == 0  # not a minute sooner
        clock(waits[-1])
    assert waits[:-1] == [1, 5, 15, 60, 180, 720, 1440]
    assert waits[:-1] == sorted(set(waits[:-1]))
    assert now(mail).state == MailState.FAILED
    assert "452 4.2.2 mailbox full" in now(mail).last_error


@pytest.mark.parametrize(
    ("mood", "why"),
    [("unknown", "550 5.1.1 no such user here"), ("rejects", "554 5.6.0 this is not wanted here")],
)
def test_refused_for_good_it_is_tried_once_and_stands_on_the_customers_page(
    mail, mailbox, clock, as_person, cleo, mood, why
):
    mailbox.mood = mood
    outbox.deliver()
    clock(10_000)
    assert outbox.deliver() == 0
    assert (now(mail).state, now(mail).attempts) == (MailState.FAILED, 1)
    page = as_person(cleo).get(reverse("customer", args=[mail.customer.pk])).content.decode()
    assert why in page
    assert ("Nothing is sent there any more" in page) is (mood == "unknown")
    assert f">{mail.subject}</a> could not be sent" in page


def test_a_customers_page_says_nothing_of_mails_that_went(mail, mailbox, as_person, cleo):
    outbox.deliver()
    page = as_person(cleo).get(reverse("customer", args=[mail.customer.pk])).content.decode()
    assert "could not be sent" not in page


def test_an_address_silenced_while_a_mail_waits_is_not_tried(mail, mailbox, cleo):
    queue.silence(address=mail.to.upper(), reason="Asked us to stop.", by=cleo)
    outbox.deliver()
    assert mailbox.taken == []
    assert now(mail).state == MailState.FAILED
    assert now(mail).last_error == "Nothing is sent to mara@example.com any more: Asked us to stop."


def test_the_second_mail_to_a_wrong_address_is_not_tried(mail, mailbox, cleo):
    second = mails.receipt([money_builders.order(cleo, instrument=mail.order.instrument)], by=cleo)
    mailbox.mood = "unknown"
    outbox.deliver()
    assert (now(mail).state, now(second).state) == (MailState.FAILED, MailState.FAILED)
    assert now(second).last_error.startswith("Nothing is sent to mara@example.com any more: ")


def test_a_clock_that_ran_ahead_keeps_no_mail_back_for_long(mail, mailbox, clock):
    """With it no server's certificate holds, so that tries fail; and then somebody sets it right."""
    mailbox.mood = "full"
    clock(400 * 24 * 60)
    assert outbox.deliver() == 1
    clock(-400 * 24 * 60)
    mailbox.mood = "takes"
    assert outbox.deliver() == 1
    assert now(mail).state == MailState.SENT


def test_greylisted_it_goes_at_the_next_try(mail, mailbox, clock):
    mailbox.mood, mailbox.times = "greylists", 1
    outbox.deliver()
    assert now(mail).state == MailState.WAITING
    clock(1)
    outbox.deliver()
    assert (now(mail).state, len(mailbox.taken)) == (MailState.SENT, 1)
    assert not now(mail).may_have_gone_twice


def test_a_server_that_says_nothing_is_left_in_time(mail, mailbox, settings, clock):
    """It had nothing yet, so nothing can have gone."""
    settings.EMAIL_TIMEOUT = 0.3
    mailbox.mood = "sleeps"
    begun = timezone.now()
    outbox.deliver()
    assert timezone.now() - begun < timedelta(seconds=5)
    assert "it did not answer in time" in now(mail).last_error or "timed out" in now(mail).last_error
    mailbox.mood = "takes"
    clock(1)
    outbox.deliver()
    assert (now(mail).state, now(mail).cut_offs, len(mailbox.taken)) == (MailState.SENT, 0, 1)


def test_a_server_that_takes_it_and_falls_silent_gets_it_twice_at_most(mail, mailbox, settings, clock):
    settings.EMAIL_TIMEOUT = 0.3
    mailbox.mood = "stalls"
    for _ in range(5):
        outbox.deliver()
        clock(2000)
    assert ids(mailbox) == [mail.message_id] * 2
    assert (now(mail).state, now(mail).last_error) == (MailState.FAILED, outbox.GIVEN_UP)


def test_hung_up_on_before_the_answer_there_is_one_duplicate_and_it_is_known(mail, mailbox, clock, as_person, cleo):
    mailbox.mood, mailbox.times = "hangs up", 1
    outbox.deliver()
    assert now(mail).state == MailState.WAITING
    assert "The mail may have gone." in now(mail).last_error
    clock(1)
    outbox.deliver()
    assert ids(mailbox) == [mail.message_id] * 2
    assert (now(mail).state, now(mail).may_have_gone_twice) == (MailState.SENT, True)
    page = as_person(cleo).get(reverse("mail-detail", args=[mail.pk])).content.decode()
    assert "may have" in page


def test_a_line_cut_in_the_middle_of_a_large_mail_is_plainly_not_sent(mail, mailbox, clock, cleo):
    """What the server never had whole it may not deliver: RFC 5321, 4.1.1.4 (from memory)."""
    large(mail, cleo)
    mailbox.mood = "cuts"
    outbox.deliver()
    assert (now(mail).state, now(mail).cut_offs) == (MailState.WAITING, 0)
    mailbox.mood = "takes"
    mail.papers.clear()  # quicker taken
    clock(1)
    outbox.deliver()
    assert (now(mail).state, now(mail).may_have_gone_twice, len(mailbox.taken)) == (MailState.SENT, False, 1)


def large(mail, by):
    """A paper that does not fit into the buffers between two programs."""
    content = bytes(range(256)) * 24_000
    mail.papers.add(papers.keep(mail.order, PaperKind.RECEIPT, content, name="large.pdf", by=by))


def test_a_server_that_was_down_for_an_hour_loses_and_doubles_nothing(cleo, mailbox, clock):
    order = money_builders.order(cleo)
    waiting = [mails.receipt([order], by=cleo) for _ in range(4)]
    OutgoingMail.objects.update(makes="")
    mailbox.stop()
    for _ in range(12):  # an hour, looked at every five minutes
        outbox.deliver()
        clock(5)
    assert {now(one).state for one in waiting} == {MailState.WAITING}
    mailbox.start()
    for _ in range(13):  # the longest wait so far is an hour
        outbox.deliver()
        clock(5)
    assert sorted(ids(mailbox)) == sorted(one.message_id for one in waiting)
    assert {now(one).state for one in waiting} == {MailState.SENT}


def test_dead_between_the_servers_yes_and_our_note_it_goes_once_more_at_most(mail, mailbox, clock, monkeypatch):
    """The process ends as by a kill: nothing after the server's answer is run."""
    with monkeypatch.context() as dying:
        dying.setattr(outbox, "_sent", die)
        with pytest.raises(Killed):
            outbox.deliver()
    assert outbox.deliver() == 0  # the dead worker's claim still holds
    clock(16)
    assert outbox.deliver() == 1
    assert ids(mailbox) == [mail.message_id] * 2
    assert (now(mail).state, now(mail).may_have_gone_twice) == (MailState.SENT, True)
    assert outcomes(mail) == [outbox.CUT_OFF, "sent"]


class Killed(BaseException):
    """Nothing catches it."""


def die(*_):
    raise Killed
