"""The list of mails: what is found, and in how many questions."""

import pytest
from django.urls import reverse
from django.utils import timezone

from shop.handover import mails, papers
from shop.handover.models import MailTry, OutgoingMail, PaperKind
from tests import factories, money_builders
from tests.counting import stays_the_same


def written(by, name="Mara Fell", email="mara@example.com", **fields):
    who = factories.customer(name, email=email)
    order = money_builders.order(by, instrument=factories.instrument(who))
    mail = mails.receipt([order], by=by)
    mail.papers.add(papers.keep(order, PaperKind.RECEIPT, b"%PDF-1.7", name="r.pdf", by=by))
    MailTry.objects.create(mail=mail, claim=money_builders.key(), begun_at=timezone.now())
    OutgoingMail.objects.filter(pk=mail.pk).update(**fields)
    return mail


def subjects(client, **query):
    return {one.pk for one in client.get(reverse("mail"), query).context["page"]}


@pytest.fixture
def three(cleo):
    return {
        "waits": written(cleo, "Anna Wait", "anna@example.com"),
        "failed": written(cleo, "Fred Fail", "fred@example.com", state="failed", last_error="550 unknown"),
        "sent": written(cleo, "Sina Sent", "sina@example.com", state="sent"),
    }


@pytest.mark.parametrize(
    ("query", "found"),
    [
        ({}, ["waits", "failed", "sent"]),
        ({"state": "failed"}, ["failed"]),
        ({"state": "sent"}, ["sent"]),
        ({"q": "anna"}, ["waits"]),
        ({"q": "Fred@Example.com"}, ["failed"]),
        ({"q": "nobody"}, []),
        ({"state": "nonsense"}, ["waits", "failed", "sent"]),
    ],
)
def test_what_is_asked_for_is_found(three, cleo, as_person, query, found):
    assert subjects(as_person(cleo), **query) == {three[name].pk for name in found}


def test_by_order_number(three, cleo, as_person):
    assert subjects(as_person(cleo), q=three["sent"].order.number) == {three["sent"].pk}


def test_the_head_says_what_waits_and_what_failed(three, cleo, as_person):
    page = as_person(cleo).get(reverse("mail")).content.decode()
    assert "1 waiting" in page
    assert "1 failed" in page
    assert "550 unknown" in page


def test_an_empty_list_says_so(cleo, as_person):
    assert "No mail has been written yet." in as_person(cleo).get(reverse("mail")).content.decode()


@pytest.mark.parametrize("query", ["", "?state=waiting", "?q=mara"])
def test_twice_the_rows_take_no_more_questions(cleo, as_person, query):
    def write(count):
        for _ in range(count):
            written(cleo)

    write(3)
    stays_the_same(as_person(cleo), reverse("mail") + query, lambda: write(6))
