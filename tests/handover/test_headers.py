"""Whatever people have typed, a mail has the headers that it should have and goes to one address."""

from email import message_from_bytes, policy
from email.utils import getaddresses, parseaddr

from django.core.mail.backends.base import BaseEmailBackend
from hypothesis import given
from hypothesis import strategies as st

from shop.handover import mails, outbox
from shop.lib import mail
from tests import factories, money_builders

NASTY = "Mara\r\nBcc: everybody@example.com\r\n\r\nGo away"


class Kept(BaseEmailBackend):
    """Keeps what it is given as it would go over the line."""

    messages = []

    def send_messages(self, messages):
        self.messages += [(one.recipients(), one.message().as_bytes(linesep="\r\n")) for one in messages]


def sent(**fields):
    letter = mail.Letter(**{
        "to": "mara@example.com", "to_name": "Mara", "sender": "workshop@example.com", "reply_to": "", "subject": "Hi",
        "text": "Hello", "html": "", "message_id": "<1@example.com>",
    } | fields)  # fmt: skip
    Kept.messages = []
    mail.send(letter, Kept())
    ((recipients, content),) = Kept.messages
    return recipients, message_from_bytes(content, policy=policy.default)


@given(name=st.text(max_size=60), subject=st.text(max_size=60), workshop=st.text(max_size=60))
def test_any_text_makes_one_mail_to_one_person(name, subject, workshop):
    sender = mail.address(workshop, "workshop@example.com")
    recipients, message = sent(to_name=name, subject=mail.one_line(subject), sender=sender)
    assert [address for _, address in getaddresses(recipients)] == ["mara@example.com"]
    assert {header.lower() for header in message} == {
        "content-type", "content-transfer-encoding", "mime-version", "subject", "from", "to", "date", "message-id",
    }  # fmt: skip
    assert parseaddr(message["From"])[1] == "workshop@example.com"


def test_a_line_break_in_a_name_stays_in_the_name():
    _, message = sent(to_name=NASTY, subject=mail.one_line(NASTY))
    assert message["Bcc"] is None
    assert "everybody@example.com" in message["Subject"]


def test_names_with_commas_and_quotes_are_one_person():
    recipients, _ = sent(to_name='Fell, Mara "the hand" <nobody@example.com>')
    assert [address for _, address in getaddresses(recipients)] == ["mara@example.com"]


def test_a_nasty_order_is_mailed_to_its_customer_alone(cleo, mailbox):
    order = money_builders.order(
        cleo, complaint=NASTY, instrument=factories.instrument(factories.customer(NASTY[:60]), maker=NASTY[:70])
    )
    queued = mails.receipt([order], by=cleo)
    queued.makes = ""
    queued.save(update_fields=["makes"])
    outbox.deliver()
    (message,) = mailbox.taken
    assert mailbox.envelopes[0][1] == ["mara@example.com"]
    assert message["Bcc"] is None
    assert "\n" not in message["Subject"]


def test_html_of_a_nasty_customer_holds_no_markup_of_theirs(cleo):
    order = money_builders.order(cleo, complaint="<script>alert(1)</script><img src=http://example.com/x>")
    html = mails.receipt([order], by=cleo).html
    assert "<script>" not in html
    assert "&lt;script&gt;alert(1)" in html


def test_an_address_that_no_header_can_hold_is_refused_not_lost():
    class Writes(Kept):
        def send_messages(self, messages):
            raise ValueError("header cannot hold it")

    letter = mail.Letter("m@example.com", "", "w@example.com", "", "s", "t", "", "<1@example.com>")
    try:
        mail.send(letter, Writes())
    except mail.Refused as refusal:
        assert refusal.address_is_wrong
    else:
        raise AssertionError("it was taken")
