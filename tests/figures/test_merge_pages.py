"""The pages of merging: noticed, looked at beside each other, merged once, followed from the old address, undone."""

import threading

import pytest
from django.db import connection

from shop.figures.merging import services
from shop.figures.merging.kinds import CUSTOMERS
from shop.people.models import Customer, CustomerMerge
from tests import factories, money_builders
from tests.counting import stays_the_same

pytestmark = pytest.mark.django_db


@pytest.fixture
def two():
    kept = factories.customer(notes="Plays slide.")
    return kept, factories.customer(name="M. Fell", phone="01632 960 123", email="", notes="Rings at noon.")


def address(two):
    return f"/customers/{two[0].pk}/merge/{two[1].pk}/"


def filled(two, **more):
    return {
        "seen": CUSTOMERS.seen(*two), "name": "kept", "phone": "kept", "notes": "Plays slide.\n\nRings at noon.",
    } | more  # fmt: skip


@pytest.mark.parametrize(
    ("fields", "why"),
    [
        ({"phone": "01632 960 123", "email": ""}, "the same telephone number"),
        ({"phone": "", "email": "MARA@example.com"}, "the same e-mail address"),
        (
            {"name": "MÁRA  FELL", "phone": "", "email": "", "address": "3 weir street,\nMARLOW"},
            "the same name and address",
        ),
    ],
)  # fmt: skip
def test_who_is_perhaps_the_same_is_said_on_the_page(as_person, cleo, ben, fields, why):
    one = factories.customer(address="3 Weir Street, Marlow")
    factories.customer(**({"name": "Somebody"} | fields))
    assert why in as_person(cleo).get(f"/customers/{one.pk}/").text
    assert why not in as_person(ben).get(f"/customers/{one.pk}/").text


def test_it_is_said_at_book_in(as_person, cleo, two):
    order = money_builders.order(cleo, instrument=factories.instrument(two[0]))
    factories.instrument(two[1], serial="lr 0412", maker="LARKRISE")
    page = as_person(cleo).get(f"/counter/booked/{order.number}/").text
    assert "Perhaps the same person" in page
    assert "Perhaps the same instrument" in page


@pytest.mark.parametrize(("maker", "same"), [("larkrise", True), ("", True), ("Another", False)])
def test_an_instrument_is_the_same_by_serial_and_maker(maker, same):
    one = factories.instrument()
    factories.instrument(one.customer, serial="LR 0412", maker=maker)
    assert bool(type(one).objects.perhaps_the_same(one)) is same


def test_both_are_shown_and_merged_once(as_person, cleo, two):
    client = as_person(cleo)
    page = client.get(address(two)).text
    assert "+44 1632 960123" in page
    assert "01632 960 123" in page
    assert client.post(address(two), filled(two, phone="gone")).status_code == 302
    kept = Customer.objects.get()
    assert (kept.pk, kept.phone, kept.notes) == (two[0].pk, "01632 960 123", "Plays slide.\n\nRings at noon.")
    again = client.post(address(two), filled(two), follow=True)
    assert "merged already" in again.text
    assert CustomerMerge.objects.count() == 1


def test_a_clash_is_said_and_what_was_typed_stays(as_person, cleo, two):
    typed = filled(two, notes="Typed at length.")
    Customer.objects.filter(pk=two[1].pk).update(company="Fell & Co")
    page = as_person(cleo).post(address(two), typed)
    assert page.status_code == 422
    assert "meanwhile" in page.text
    assert "Typed at length." in page.text
    assert Customer.objects.count() == 2


@pytest.mark.parametrize("wrong", [{"notes": "x" * 2001}, {"phone": "neither"}, {"seen": ""}, {"seen": "x" * 99}])
def test_nonsense_is_refused(as_person, cleo, two, wrong):
    assert as_person(cleo).post(address(two), filled(two, **wrong)).status_code == 422
    assert Customer.objects.count() == 2


def test_who_was_erased_cannot_be_merged(as_person, cleo, two):
    Customer.objects.filter(pk=two[1].pk).update(erased_at="2026-01-01T00:00Z")
    fresh = (two[0], Customer.objects.get(pk=two[1].pk))
    assert as_person(cleo).post(address(two), filled(fresh)).status_code == 422
    assert "Perhaps" not in as_person(cleo).get(f"/customers/{two[0].pk}/").text
    assert Customer.objects.count() == 2


@pytest.fixture
def merged(two, ada):
    texts = {"notes": "", "taste": ""}
    return services.merge(CUSTOMERS, *two, chosen=set(), texts=texts, seen=CUSTOMERS.seen(*two), by=ada)


def test_old_addresses_lead_on(as_person, ada, two, merged):
    client = as_person(ada)
    kept, gone = two[0].pk, merged.gone
    for page in ("", "edit/", "data/", "card.vcf"):
        assert client.get(f"/customers/{gone}/{page}")["Location"] == f"/customers/{kept}/{page}"
    assert f"customer={kept}" not in client.get(f"/counter/?customer={gone}").get("Location", "")
    assert "Mara Fell" in client.get(f"/counter/?customer={gone}").text
    assert client.get("/customers/99999/").status_code == 404


def test_what_is_sent_to_the_old_address_is_kept_but_for_deleting(as_person, ada, two, merged):
    client = as_person(ada)
    sent = client.post(f"/customers/{merged.gone}/instruments/new/", {"kind": "bass"})
    assert (sent.status_code, sent["Location"]) == (307, f"/customers/{two[0].pk}/instruments/new/")
    for page in ("delete/", "data/erase/"):
        answer = client.post(f"/customers/{merged.gone}/{page}", {"name": "Mara Fell"}, follow=True)
        assert "Nothing was taken away" in answer.text
    assert Customer.objects.filter(pk=two[0].pk, erased_at=None).exists()


def test_the_page_tells_of_it_and_takes_it_apart(as_person, cleo, two, merged):
    client = as_person(cleo)
    page = client.get(f"/customers/{two[0].pk}/").text
    assert "M. Fell was merged into this record" in page
    assert "01632 960 123" in page
    assert client.post(f"/customers/merges/{merged.pk}/undo/")["Location"] == f"/customers/{merged.gone}/"
    assert Customer.objects.count() == 2
    assert "apart already" in client.post(f"/customers/merges/{merged.pk}/undo/", follow=True).text


def test_the_other_record_is_looked_for(as_person, cleo, two):
    client = as_person(cleo)
    assert "M. Fell" in client.get(f"/customers/{two[0].pk}/merge/?q=fell").text
    assert "No other record fits" in client.get(f"/customers/{two[0].pk}/merge/?q=nobody").text


def test_the_page_of_a_customer_asks_no_more_of_more(as_person, cleo):
    kept = factories.customer(email="")
    factories.customer(email="")

    def more():
        for _ in range(3):
            factories.customer(email="")

    stays_the_same(as_person(cleo), f"/customers/{kept.pk}/", more, most=40)


@pytest.mark.django_db(transaction=True)
def test_two_who_merge_at_once_merge_once(two, ada):
    """Either way round: the second finds that one of the two is no longer there."""
    answers, start = [], threading.Barrier(2)

    def press(kept, gone):
        start.wait()
        try:
            services.merge(CUSTOMERS, kept, gone, chosen=set(), texts={}, seen=CUSTOMERS.seen(kept, gone), by=ada)
            answers.append("merged")
        except services.NotAllowed as refusal:
            answers.append(str(refusal))
        finally:
            connection.close()

    hands = [threading.Thread(target=press, args=pair) for pair in (two, two[::-1])]
    for hand in hands:
        hand.start()
    for hand in hands:
        hand.join()
    assert answers.count("merged") == 1
    assert Customer.objects.count() == CustomerMerge.objects.count() == 1
