"""The customer's own page: its address alone opens it, and it shows one order only."""

import re
from datetime import timedelta

import pytest
from django.core.signing import Signer
from django.utils import timezone

from shop.handover import services as handover
from shop.handover.customer_page import address_of
from shop.handover.models import OutgoingMail, PaperKind
from shop.handover.papers import keep
from shop.orders import services
from shop.orders.models import Agreement, Answer, CustomerLink, Quote
from shop.orders.services import NotAllowed
from shop.orders.states import State
from tests import factories, money_builders

pytestmark = pytest.mark.django_db


@pytest.fixture
def quoted(cleo, monkeypatch):
    """An order with two proposed lines whose quote was mailed."""
    monkeypatch.setattr("shop.handover.papers.quote_pdf", lambda *_: b"%PDF-1.7 quote")
    order = money_builders.order(cleo, state=State.ASSESSED, lines=())
    for text, price in (("Setup", "85.00"), ("New nut", "60.00")):
        money_builders.line(order, text, price, agreement=Agreement.PROPOSED)
    handover.mail_quote(order, by=cleo)
    return order


def path_of(order):
    return "/" + address_of(services.current_link(order)).split("/", 3)[3]


def said(answer):
    """The page without the form token, which is another one each time."""
    return re.sub(r'"X-CSRFToken": "\w+"', "", answer.content.decode())


def answers(order, *words, version=1, name="Mara Fell"):
    lines = [line.pk for line in order.lines.all()]
    return {"version": version, "name": name} | {f"line-{pk}": w for pk, w in zip(lines, words, strict=False) if w}


def test_the_mail_carries_its_address(quoted):
    mail = OutgoingMail.objects.get(name="quote")
    assert address_of(services.current_link(quoted)) in mail.text
    assert "valid until" in mail.text


def test_it_says_where_it_stands_without_signing_in(quoted, client):
    answer = client.get(path_of(quoted))
    text = answer.content.decode()
    assert "We have looked it over" in text
    assert "Setup, €85.00, VAT 20% included." in text
    assert (answer["Referrer-Policy"], answer["Cache-Control"]) == ("same-origin", "private, no-store")
    assert services.current_link(quoted).opened_at


def test_line_by_line(quoted, client):
    answer = client.post(path_of(quoted) + "answer/", answers(quoted, "agreed", "declined"), follow=True)
    assert "Thank you" in answer.content.decode()
    kept = Answer.objects.order_by("line_id")
    assert [(one.answer, one.text, one.name, one.by) for one in kept] == [
        ("agreed", "Setup, €85.00, VAT 20% included.", "Mara Fell", None),
        ("declined", "New nut, €60.00, VAT 20% included.", "Mara Fell", None),
    ]
    quoted.refresh_from_db()
    assert quoted.state == State.AGREED


def test_what_they_have_agreed_to_is_added_up(quoted, client):
    assert "You have agreed to" not in client.get(path_of(quoted)).content.decode()
    client.post(path_of(quoted) + "answer/", answers(quoted, "agreed", "declined"))
    text = re.sub(r"<[^>]*>", " ", client.get(path_of(quoted)).content.decode())
    assert " ".join(text.split()).count("In all €145.00 of which VAT €24.17 You have agreed to €85.00") == 1


def test_a_second_window_says_that_it_is_answered(quoted, client):
    client.post(path_of(quoted) + "answer/", answers(quoted, "agreed", "declined"))
    answer = client.post(path_of(quoted) + "answer/", answers(quoted, "agreed", "agreed"))
    assert answer.status_code == 422
    assert "This is answered already; below is how." in answer.content.decode()
    assert Answer.objects.count() == 2


def test_half_an_answer_keeps_the_order_where_it_is(quoted, client):
    client.post(path_of(quoted) + "answer/", answers(quoted, "agreed"))
    quoted.refresh_from_db()
    assert quoted.state == State.ASSESSED
    assert "Send my answer" in client.get(path_of(quoted)).content.decode()


@pytest.mark.parametrize(
    ("sent", "says"),
    [
        ({"name": ""}, "Write your name under your answers."),
        ({"version": 2}, "There is a newer quote."),
        ({"version": "x"}, "could not be read"),
        ({"version": 10**30}, "There is a newer quote."),
        ({"only": "name"}, "Choose an answer for at least one line."),
    ],
)
def test_what_is_not_taken(quoted, client, sent, says):
    data = answers(quoted) if "only" in sent else answers(quoted, "agreed") | sent
    answer = client.post(path_of(quoted) + "answer/", data)
    assert (answer.status_code, says in answer.content.decode()) == (422, True)
    assert not Answer.objects.exists()


def test_what_was_changed_meanwhile_is_not_agreed(quoted, client, cleo):
    line = quoted.lines.first()
    data = answers(quoted, "agreed")
    services.change_line(line, {"price": 185}, by=cleo)
    assert client.post(path_of(quoted) + "answer/", data).status_code == 422
    with pytest.raises(NotAllowed, match="changed or answered"):
        services.answer_quote(quoted, 1, {line.pk: "agreed"}, name="Mara Fell")
    assert "was changed since" in client.get(path_of(quoted)).content.decode()


def test_an_old_quote_is_not_agreed(quoted, client):
    data = answers(quoted, "agreed")
    Quote.objects.update(valid_until=timezone.localdate() - timedelta(days=1))
    answer = client.post(path_of(quoted) + "answer/", data)
    assert answer.status_code == 422
    assert "This quote is not valid any more." in answer.content.decode()
    assert "Ask us for a new one" in client.get(path_of(quoted)).content.decode()


def test_extra_work_asks_again_and_every_version_is_kept(quoted, client, cleo):
    client.post(path_of(quoted) + "answer/", answers(quoted, "agreed", "agreed"))
    services.move(quoted, State.ON_BENCH, by=cleo)
    [extra] = services.add_lines(quoted, [services.NewLine("Fret levelled", 40, 20)], by=cleo)
    handover.mail_quote(quoted, by=cleo)
    assert [one.version for one in quoted.quotes.all()] == [2, 1]
    assert {line.agreement for line in quoted.lines.exclude(pk=extra.pk)} == {"agreed"}
    assert quoted.holds.filter(lifted_at=None).count() == 1
    client.post(path_of(quoted) + "answer/", {"version": 2, "name": "Mara", f"line-{extra.pk}": "declined"})
    assert not quoted.holds.filter(lifted_at=None).exists()


def test_papers_of_this_order_only(quoted, client, cleo):
    paper = quoted.papers.get(kind=PaperKind.QUOTE)
    path = path_of(quoted)
    assert client.get(f"{path}papers/{paper.pk}/{paper.name}").content == b"%PDF-1.7 quote"
    other = money_builders.order(cleo, instrument=factories.instrument(factories.customer("Jonas Reed"), serial="X"))
    theirs = keep(other, PaperKind.HANDOVER, b"%PDF theirs", name="x.pdf", by=cleo)
    assert client.get(f"{path}papers/{theirs.pk}/x.pdf").status_code == 404
    assert "Jonas" not in client.get(path).content.decode()


def test_forged_expired_and_withdrawn_look_the_same(quoted, client, cleo):
    path = path_of(quoted)
    link = services.current_link(quoted)
    forged = f"/yours/{Signer(salt='something else', sep='.').sign(link.key)}/"
    pages = {said(client.get(forged)), said(client.get("/yours/nothing/"))}
    CustomerLink.objects.update(expires_at=timezone.now())
    pages.add(said(client.get(path)))
    CustomerLink.objects.update(expires_at=timezone.now() + timedelta(days=3))
    assert client.get(path).status_code == 200
    services.withdraw_link(quoted, by=cleo)
    answer = client.get(path)
    assert answer.status_code == 404
    assert len({*pages, said(answer)}) == 1


def test_a_new_address_ends_the_old_one(quoted, as_person, cleo, client):
    old = path_of(quoted)
    as_person(cleo).post(f"/orders/{quoted.number}/customer-page/renew/")
    assert client.get(old).status_code == 404
    assert client.get(path_of(quoted)).status_code == 200


def test_guessing_is_slowed_and_looking_is_not(quoted, client):
    statuses = [client.get(f"/yours/guess{number}/").status_code for number in range(14)]
    assert statuses[:12] == [404] * 12
    assert statuses[-1] == 429
    assert client.get(path_of(quoted)).status_code == 429  # from the same place
    assert client.get(path_of(quoted), REMOTE_ADDR="203.0.113.7").status_code == 200


def test_at_the_counter_it_is_kept_word_by_word_too(quoted, as_person, cleo):
    line = quoted.lines.first()
    sent = {"line": line.pk, "how": "by telephone", "name": "Mara"}
    as_person(cleo).post(f"/orders/{quoted.number}/lines/agree/", sent)
    kept = Answer.objects.get()
    assert (kept.text, kept.how, kept.name, kept.by) == (
        "Setup, €85.00, VAT 20% included.", "by telephone", "Mara", cleo,
    )  # fmt: skip
