"""Who may hand over, see papers and touch the mail."""

import pytest
from django.urls import reverse

from shop.billing import services
from shop.handover import mails, papers
from shop.handover.models import PaperKind, SilencedAddress
from tests import money_builders as build

COUNTER, EVERYBODY = ("cleo", "ada"), ("cleo", "ada", "ben")
TABLE = [
    ("get", "order-ready", "order", COUNTER),
    ("get", "order-collect", "order", COUNTER),
    ("post", "order-quote", "order", COUNTER),
    ("get", "order-receipt", "order", EVERYBODY),
    ("post", "invoice-issue", "order", COUNTER),
    ("get", "invoice-pdf", "invoice", COUNTER),
    ("get", "invoice-credit", "invoice", COUNTER),
    ("post", "invoice-mail", "invoice", COUNTER),
    ("post", "invoice-remind", "invoice", COUNTER),
    ("get", "paper", "sheet", EVERYBODY),
    ("get", "paper", "bill", COUNTER),
    ("get", "mail", None, COUNTER),
    ("get", "mail-silenced", None, COUNTER),
    ("post", "address-silence", None, COUNTER),
    ("post", "address-lift", "silenced", COUNTER),
    ("get", "mail-detail", "mail", COUNTER),
    ("get", "mail-html", "mail", COUNTER),
    ("post", "mail-again", "mail", COUNTER),
    ("post", "mail-withdraw", "mail", COUNTER),
]
IDS = [f"{row[1]}-{row[2]}" for row in TABLE]
BOTH = {"order-ready", "order-collect", "invoice-credit"}


@pytest.fixture
def things(cleo, monkeypatch):
    for name in ("receipt_pdf", "quote_pdf", "invoice_pdf", "handover_pdf"):
        monkeypatch.setattr(papers, name, lambda *_: b"%PDF-1.7")
    order = build.order(cleo)
    issued = services.issue(build.order(cleo, instrument=order.instrument), by=cleo)
    sheet = papers.keep(order, PaperKind.HANDOVER, b"%PDF-1.7", name="sheet.pdf", by=cleo)
    bill = papers.keep(order, PaperKind.INVOICE, b"%PDF-1.7", name="bill.pdf", by=cleo)
    silenced = SilencedAddress.objects.create(address="x@example.com", reason="Gone.", since=issued.issued_at)
    return {
        None: [], "order": [order.number], "invoice": [issued.pk], "sheet": [sheet.pk, sheet.name],
        "bill": [bill.pk, bill.name], "mail": [mails.receipt([order], by=cleo).pk], "silenced": [silenced.pk],
    }  # fmt: skip


@pytest.mark.parametrize(("method", "name", "about", "who"), TABLE, ids=IDS)
def test_each_role_gets_what_the_table_says(method, name, about, who, things, ada, ben, cleo, client):
    address = reverse(name, args=things[about])
    for person in (ben, cleo, ada):
        client.force_login(person)
        status = getattr(client, method)(address).status_code
        assert (status != 403) is (person.username in who), (person, status)


@pytest.mark.parametrize(("method", "name", "about", "who"), TABLE, ids=IDS)
def test_nobody_gets_in_without_signing_in(method, name, about, who, things, client):
    answer = getattr(client, method)(reverse(name, args=things[about]))
    assert answer.status_code == 302
    assert answer["Location"].startswith(reverse("sign-in"))


@pytest.mark.parametrize(("method", "name", "about", "who"), TABLE, ids=IDS)
def test_the_other_method_is_not_taken(method, name, about, who, things, ada, as_person):
    other = "delete" if name in BOTH else "post" if method == "get" else "get"
    assert getattr(as_person(ada), other)(reverse(name, args=things[about])).status_code == 405


@pytest.mark.parametrize(
    ("name", "args"),
    [("paper", [999, "x.pdf"]), ("mail-detail", [999]), ("invoice-pdf", [999]), ("order-ready", ["26-9999"])],
)
def test_what_is_not_there_is_not_found(name, args, cleo, as_person):
    assert as_person(cleo).get(reverse(name, args=args)).status_code == 404
