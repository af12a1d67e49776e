"""Several real worker processes on one database, and workers that are killed."""

import signal
import time
from collections import Counter

import pytest

from tests.processes import ShopOnDisk
from tests.smtp_server import Mailbox

MAILS = 15
SET_UP = """
import sys
from tests import factories, money_builders as build
from shop.handover import mails
from shop.handover.models import OutgoingMail
cleo = factories.cleo()
instrument = factories.instrument()
for _ in range(int(sys.argv[1])):
    order = build.order(cleo, instrument=instrument)
    mails.receipt([order], by=cleo)
OutgoingMail.objects.update(makes="")  # no paper to lay out
"""
SEND = """
import sys
from datetime import timedelta
from django.utils import timezone
from shop.handover import outbox
from shop.handover.models import OutgoingMail
if "later" in sys.argv:
    OutgoingMail.objects.update(claimed_until=timezone.now() - timedelta(seconds=1))
print(outbox.deliver())
if "show" in sys.argv:
    for mail in OutgoingMail.objects.all():
        print(mail.state, mail.attempts, mail.may_have_gone_twice, mail.last_error[:24])
"""
LOOP = "from django.core.management import call_command; call_command('send_mail', loop=True, interval=0.1)"


@pytest.fixture
def mailbox():
    server = Mailbox().start()
    yield server
    server.stop()


@pytest.fixture
def shop(tmp_path, mailbox):
    return ShopOnDisk(
        tmp_path, WORKSHOP_SMTP_HOST="127.0.0.1", WORKSHOP_SMTP_PORT=str(mailbox.port), WORKSHOP_SMTP_TLS="0"
    )


def ids(mailbox):
    return Counter(message["Message-ID"] for message in mailbox.taken)


def wait_for(what, seconds=30):
    end = time.monotonic() + seconds
    while not what():
        assert time.monotonic() < end, "it took too long"
        time.sleep(0.05)


def test_three_workers_send_each_mail_once(shop, mailbox):
    shop.say(SET_UP, MAILS)
    sent = [int(output) for output in shop.run((SEND,), (SEND,), (SEND,))]
    assert sum(sent) == MAILS
    assert list(ids(mailbox).values()) == [1] * MAILS


def killed_in_the_middle(shop, mailbox, *how):
    """A worker that dies once the server has taken its mail and has not answered yet."""
    before = len(mailbox.taken)
    mailbox.mood = "stalls"
    worker = shop.start(SEND, *how)
    wait_for(lambda: len(mailbox.taken) > before)
    worker.send_signal(signal.SIGKILL)
    worker.communicate()
    mailbox.mood = "takes"


def test_a_worker_killed_in_the_middle_makes_one_known_duplicate(shop, mailbox):
    shop.say(SET_UP, 1)
    killed_in_the_middle(shop, mailbox)
    assert shop.say(SEND) == "0"  # the dead worker's claim still holds
    assert shop.say(SEND, "later", "show").split("\n") == ["1", "sent 2 True "]
    assert list(ids(mailbox).values()) == [2]


def test_killed_twice_it_is_not_risked_a_third_time(shop, mailbox):
    shop.say(SET_UP, 1)
    killed_in_the_middle(shop, mailbox)
    killed_in_the_middle(shop, mailbox, "later")
    assert shop.say(SEND, "later", "show").split("\n") == ["0", "failed 2 False Sending was cut off twic"]
    assert list(ids(mailbox).values()) == [2]


def test_told_to_stop_it_finishes_the_mail_in_hand(shop, mailbox):
    shop.say(SET_UP, 1)
    worker = shop.start(LOOP)
    wait_for(lambda: mailbox.taken)
    worker.send_signal(signal.SIGTERM)
    output, errors = worker.communicate(timeout=20)
    assert (worker.returncode, errors, output.strip()) == (0, "", "1 mail tried.")
    assert shop.say(SEND, "show").split("\n") == ["0", "sent 1 False "]
