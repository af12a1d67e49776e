"""The words of mails: the shop's own where it has some, checked before they are kept, and never run."""

import pytest
from django.urls import reverse
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from shop.handover import rewording, sample, wordings
from shop.handover.models import MailWording, OutgoingMail
from shop.handover.writing import Words, written
from tests import factories

NAMES = list(wordings.MAILS)
OWN = {"subject": "Come and play: {order}", "body": "Hello {customer},\n\nit sings.\n\n{facts}\n\nYours\n{workshop}"}


@pytest.fixture
def shop(db):
    return factories.workshop(name="Old Mill", email="workshop@example.com")


@pytest.fixture
def owner(as_person, ada):
    return as_person(ada)


@pytest.mark.parametrize("name", NAMES)
def test_the_usual_words_will_do(shop, name):
    usual = wordings.MAILS[name]
    assert wordings.problem_with(name, usual.subject, is_subject=True) == ""
    assert wordings.problem_with(name, usual.body) == ""
    subject, text, html = written(name, sample.given(shop))
    for part in (subject, text, html):
        assert part.strip()
        assert "{" not in part.replace("{%", "")
    assert "Mara Fell" in text
    assert "Old Mill" in html


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("{facts}\n{password}", "There is no {password}"),
        ("{customer.__class__}\n{facts}", "There is no {customer.__class__}"),
        ("{facts}\n{", "A brace stands alone"),
        ("{{ customer }}\n{facts}", "There is no { customer }"),
        ("Hello", "{facts} has to stand once"),
        ("{facts}\n{facts}", "{facts} has to stand once"),
        ("see {facts} here", "{facts} has to stand once"),
    ],
)
def test_words_that_would_not_do_are_told_why(text, says):
    assert wordings.problem_with("ready", text).startswith(says) or says in wordings.problem_with("ready", text)


def test_what_people_typed_is_never_read_as_words(shop):
    """A customer called {facts} or {% now %} or <b> stays what was typed, escaped in HTML."""
    about = sample.given(shop)
    about["customer"].name = "{order} {% now 'Y' %} {{ 7|add:7 }} <b>x</b>"
    subject, text, html = written("ready", about, Words("{customer}", OWN["body"]))
    assert "{order} {% now 'Y' %} {{ 7|add:7 }} <b>x</b>" in text
    assert subject.startswith("{order} {% now")
    assert "&lt;b&gt;x&lt;/b&gt;" in html
    assert "<b>x" not in html


def test_template_code_in_words_is_text(shop):
    body = "A {% include 'secret' %}\n\n{facts}"
    assert wordings.problem_with("ready", body).startswith("There is no {% include")


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(text=st.text(max_size=200), name=st.sampled_from(NAMES))
def test_any_words_are_refused_or_make_a_mail(shop, text, name):
    body = f"{text}\n{{facts}}"
    if not wordings.problem_with(name, body):
        subject, plain, html = written(name, sample.given(shop), Words(text or "Hi", body))
        assert "\n" not in subject
        assert plain
        assert html


def test_a_subject_stays_one_line(shop):
    about = sample.given(shop)
    about["customer"].name = "Mara\r\nBcc: all@example.com"
    subject, _, _ = written("ready", about, Words("For {customer}", OWN["body"]))
    assert subject == "For Mara Bcc: all@example.com"


def test_own_words_are_kept_and_used(owner, shop):
    answer = owner.post(reverse("mail-words-of", args=["ready"]), OWN)
    assert answer.status_code == 302
    subject, text, _ = written("ready", sample.given(shop))
    assert subject == "Come and play: 26-0042"
    assert "it sings." in text
    assert "Still to pay" in text


def test_wrong_words_keep_what_was_typed(owner, shop):
    answer = owner.post(reverse("mail-words-of", args=["ready"]), OWN | {"body": "{nonsense}"})
    assert answer.status_code == 422
    assert "There is no {nonsense} in this mail." in answer.content.decode()
    assert not MailWording.objects.exists()


def test_back_to_the_usual_words(owner, shop, ada):
    rewording.reword("ready", by=ada, **OWN)
    owner.post(reverse("mail-words-usual", args=["ready"]))
    assert not MailWording.objects.exists()


def test_the_usual_words_typed_again_are_not_kept(shop, ada):
    usual = wordings.MAILS["ready"]
    rewording.reword("ready", subject=usual.subject, body=usual.body, by=ada)
    assert not MailWording.objects.exists()


def test_the_look_shows_what_is_typed_and_keeps_nothing(owner, shop):
    answer = owner.post(reverse("mail-words-look", args=["ready"]), OWN)
    assert "it sings." in answer.content.decode()
    assert "sandbox" in answer["Content-Security-Policy"]
    assert not MailWording.objects.exists()
    wrong = owner.post(reverse("mail-words-look", args=["ready"]), OWN | {"body": "<script>{x}"})
    assert wrong.status_code == 422
    assert "<script>" not in wrong.content.decode()


def test_a_test_goes_to_the_workshop_alone(owner, shop):
    owner.post(reverse("mail-words-test", args=["reminder"]))
    mail = OutgoingMail.objects.get()
    assert mail.to == "workshop@example.com"
    assert mail.subject.startswith("Test: ")
    assert owner.get(reverse("mail-detail", args=[mail.pk])).status_code == 200


def test_without_an_address_no_test(owner, db):
    factories.workshop(email="")
    answer = owner.post(reverse("mail-words-test", args=["ready"]), follow=True)
    assert "e-mail address" in answer.content.decode()
    assert not OutgoingMail.objects.exists()


def test_a_mail_that_is_not_there(owner, db):
    assert owner.get(reverse("mail-words-of", args=["love-letter"])).status_code == 404
