"""Every address against every role, in the branch of what it names, in another one, and for the owner of both.

What belongs to a branch is not there for those who work in another: 404 as for something that never was.
"""

import pytest
from django.db import transaction
from django.test import Client

from shop.staff.roles import Role
from tests.branches.everything import TOLD, things
from tests.every_address import PK, SHEETS, WHO, address_of, named_addresses

pytestmark = pytest.mark.django_db
# What `pk` names, where it hangs on an order: the rest is the whole firm's.
OF_A_BRANCH = {"order", "sheet", "signed", "invoice", "payment", "mail", "paper", "photo", "line", "condition", "draft"}
ASKS = {"reading-history": "?stage=received&key=relief"}
LETTER = {Role.COUNTER: "C", Role.BENCH: "B", Role.OWNER: "O"}
# These end or close what the others need.
LEFT_OUT = {"sign-out", "lock", "others-out", "device-out"}
ADDRESSES = sorted((name, arguments) for name, arguments in named_addresses().items()
                   if WHO[name] != "A" and name not in LEFT_OUT)  # fmt: skip


def belongs(name, arguments):
    named = PK.get(name, "sheet" if name in SHEETS else "")
    return "number" in arguments or ("pk" in arguments and named in OF_A_BRANCH)


def address(name, arguments, there):
    """With what the address asks for beside it."""
    return address_of(name, arguments, there) + ASKS.get(name, "")


def ask(client, path):
    """The status of GET, or of POST where GET is not answered. Whatever it did is undone."""
    with transaction.atomic():
        answer = client.get(path)
        answer = client.post(path) if answer.status_code == 405 else answer
        content = b"".join(answer.streaming_content) if answer.streaming else answer.content
        transaction.set_rollback(True)
    return answer.status_code, content


def signed_in(person):
    client = Client()
    client.force_login(person)
    return client


def may(person, name):
    return LETTER[person.role] in WHO[name]


def answers(person, there, *, whole=False):
    """(name, status) of each address of something of a branch that `person`'s role may open; `whole`: of all."""
    client = signed_in(person)
    for name, arguments in ADDRESSES:
        if belongs(name, arguments) and (whole or may(person, name)):
            yield name, ask(client, address(name, arguments, there))[0]


def is_refused(status):
    return status in (403, 404) or status >= 500


@pytest.fixture
def there(two, monkeypatch):
    """Papers are kept as the words that would be printed: quick, and they can be searched."""
    monkeypatch.setattr("shop.lib.pdf.pdf_of", lambda markup, **_: b"%PDF-1.7\n" + markup.encode())
    monkeypatch.setattr("shop.handover.views.papers.attached", lambda content, name: b"<xml/>")
    return things(two)


def test_the_table_knows_what_belongs_to_a_branch():
    """The check means something: most addresses name something of a branch."""
    assert sum(belongs(*one) for one in ADDRESSES) > 70


@pytest.mark.parametrize("role", ["cleo", "ben"])
def test_ones_own_branch_is_there(two, there, role):
    assert {name: status for name, status in answers(getattr(two, role), there) if is_refused(status)} == {}


@pytest.mark.parametrize("role", ["hanna", "hugo"])
def test_another_branch_is_not_there(two, there, role):
    assert {name: status for name, status in answers(getattr(two, role), there) if status != 404} == {}


def test_the_owner_sees_all(two, there):
    assert {name: status for name, status in answers(two.ada, there, whole=True) if is_refused(status)} == {}


@pytest.mark.parametrize(("here", "elsewhere"), [("cleo", "hanna"), ("ben", "hugo")])
def test_what_is_the_whole_firms_answers_alike(two, there, here, elsewhere):
    """Customers, instruments and prices: whoever may open them here may open them there."""
    ours, theirs, wrong = signed_in(getattr(two, here)), signed_in(getattr(two, elsewhere)), {}
    for name, arguments in ADDRESSES:
        if arguments and not belongs(name, arguments) and may(getattr(two, here), name):
            path = address_of(name, arguments, there)
            one, other = ask(ours, path)[0], ask(theirs, path)[0]
            if one != other or one >= 500:
                wrong[name] = (one, other)
    assert wrong == {}


@pytest.mark.parametrize("role", ["hanna", "hugo"])
def test_no_page_says_anything_of_another_branch(two, there, role):
    """Lists, searches, panels, tables and files: neither a number nor a word of its orders."""
    client = signed_in(getattr(two, role))
    told = (TOLD, there["number"], there["signed number"], "R26-0001")
    open_to = [one for one in ADDRESSES if may(getattr(two, role), one[0]) and not belongs(*one)]
    more = [f"/find/?q={text}" for text in ("26-0001", "1", "Mara", "LR-0412")]
    more += [f"/counter/?q={text}" for text in ("26-0001", "1", "Mara")]
    more += ["/orders/?show=all", "/orders/?q=Mara", "/invoices/?q=Mara", "/mail/?q=Mara", "/stock/?show=all",
             f"/orders/?show=all&branch={two.street.pk}", f"/mail/?branch={two.street.pk}",
             f"/invoices/?branch={two.street.pk}"]  # fmt: skip
    found = {}
    for path in [*(address_of(*one, there) for one in open_to), *more]:
        said = [one for one in told if one.encode() in ask(client, path)[1]]
        if said and not any(one in path for one in said):
            found[path] = said
    assert found == {}


def test_the_same_pages_say_it_in_ones_own_branch(two, there):
    """The test before can fail."""
    client = signed_in(two.cleo)
    for path in ("/orders/?show=all", "/orders/?q=Mara", f"/customers/{there['customer']}/", "/find/?q=Mara"):
        assert there["number"].encode() in ask(client, path)[1], path
