"""Without a mail server mails go to a folder of this machine, and the app says so."""

from email import message_from_bytes, policy

import pytest
from django.conf import settings as conf
from django.urls import reverse

from shop.handover import outbox, services


@pytest.fixture(autouse=True)
def local(settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.filebased.EmailBackend"
    settings.MAIL_IS_LOCAL = True


def test_the_mail_lies_in_the_folder_with_both_papers(cleo, order):
    done = services.make_ready(order, by=cleo)
    outbox.deliver()
    (file,) = conf.EMAIL_FILE_PATH.iterdir()
    message = message_from_bytes(file.read_bytes().partition(b"\n" + b"-" * 79)[0], policy=policy.default)
    assert message["Message-ID"] == done.mail.message_id
    attached = [part.get_payload(decode=True) for part in message.iter_attachments()]
    assert attached == [paper.read() for paper in done.papers]


def test_the_app_says_so(cleo, order, as_person):
    mail = services.make_ready(order, by=cleo).mail
    outbox.deliver()
    client = as_person(cleo)
    page = client.get(reverse("mail")).content.decode()
    assert "No mail server is set, so nothing leaves this machine." in page
    assert "in the local outbox" in page
    assert "has not left this machine" in client.get(reverse("mail-detail", args=[mail.pk])).content.decode()


def test_an_outbox_that_cannot_be_written_is_a_reason_not_a_crash(cleo, order, settings, tmp_path):
    (tmp_path / "a file").write_text("in the way")
    settings.EMAIL_FILE_PATH = tmp_path / "a file"
    mail = services.make_ready(order, by=cleo).mail
    outbox.deliver()
    mail.refresh_from_db()
    assert mail.state == "waiting"
    assert mail.last_error.startswith("The mail server cannot be reached: ")
