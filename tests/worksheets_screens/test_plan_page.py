"""The plan's page: moves, warnings that become lines of the quote, what is missing, and what if."""

from decimal import Decimal

import html5lib
import pytest
from django.test import Client

from shop.orders.models import Agreement
from shop.orders.states import State
from shop.stock.models import PriceItem
from shop.worksheets.models import Reading
from tests import factories
from tests import worksheet_builders as build

HIGH = {
    "received.relief": 0.45, "received.crest_height_bass": 15.5, "received.crest_height_treble": 14.8,
    "received.stud_bass": 6.0, "received.stud_treble": 6.0,
    **build.six("received.height_12", [2.6, 2.5, 2.4, 2.3, 2.2, 2.0]),
    **build.six("received.nut_gap", [0.3, 0.2, 0.15, 0.15, 0.0, 0.15]),
    **build.six("received.octave", [5.0, -3.0, 2.0, 1.0, 0.0, 4.0]),
}  # fmt: skip


@pytest.fixture
def planned(sheet, ben):
    build.store(sheet, ben, HIGH)
    return sheet


def page_of(client, sheet, asked=""):
    answer = client.get(f"/bench/{sheet.pk}/plan/{asked}")
    return answer, answer.content.decode()


def test_without_readings_it_says_which_are_asked_for(as_person, ben, sheet):
    answer, page = page_of(as_person(ben), sheet)
    assert answer.status_code == 200
    assert "Nothing to plan from yet" in page
    assert "Height at fret 12, strings 6 and 1" in page
    assert "The moves, in this order" not in page


def test_it_lists_the_moves_and_what_to_read_after_them(as_person, ben, planned):
    _, page = page_of(as_person(ben), planned)
    assert "Tighten the truss rod until the bow is 0.25 mm less" in page
    assert page.index("Neck relief</a>") < page.index("String height</a>") < page.index("Intonation</a>")
    assert "Bass post down" in page
    assert "every string above the range" in page or "above the range, by" in page


def test_some_readings_missing_are_named_and_the_rest_is_planned(as_person, ben, sheet):
    build.store(sheet, ben, {"received.relief": 0.45})
    _, page = page_of(as_person(ben), sheet)
    assert "The plan leaves out what rests on these" in page
    assert "Tighten the truss rod" in page


def test_the_rail_the_head_and_the_order_lead_to_it(as_person, ben, sheet):
    client, link = as_person(ben), f'href="/bench/{sheet.pk}/plan/"'
    assert client.get(f"/bench/{sheet.pk}/relief/").content.decode().count(link) == 2
    assert link in client.get(f"/orders/{sheet.order.number}/").content.decode()


def test_every_role_may_see_it_and_nobody_else(as_person, ada, cleo, sheet):
    for person in (ada, cleo):
        assert page_of(as_person(person), sheet)[0].status_code == 200
    assert page_of(Client(), sheet)[0].status_code == 302
    assert as_person(ada).get("/bench/999999/plan/").status_code == 404


def test_work_from_the_price_list_goes_on_the_quote_with_one_tap(as_person, ben, planned):
    item = PriceItem.objects.create(name="Nut: new, bone", price=Decimal("60.00"), tax_rate=Decimal(20))
    client = as_person(ben)
    _, page = page_of(client, planned)
    assert f'<option value="{item.pk}" selected>' in page
    sent = {"work": "nut", "item": item.pk, "price": ""}
    answer = client.post(f"/bench/{planned.pk}/plan/offer/", sent, follow=True)
    line = planned.order.lines.get()
    assert (line.text, line.price, line.agreement) == ("Nut: new, bone", Decimal("60.00"), Agreement.PROPOSED)
    assert "Proposed, and waits for the customer&#x27;s answer" in answer.content.decode()
    assert planned.order.holds.filter(key="lines", lifted_at=None).exists()
    assert "On the order: Nut: new, bone, proposed" in page_of(client, planned)[1]


def test_two_taps_offer_it_once(as_person, ben, planned):
    client = as_person(ben)
    for _ in range(2):
        client.post(f"/bench/{planned.pk}/plan/offer/", {"work": "nut", "price": "45"})
    assert planned.order.lines.get().price == Decimal(45)


@pytest.mark.parametrize(
    ("sent", "says"),
    [
        ({"work": "nut", "price": ""}, "Write what it costs, or choose an item of the price list."),
        ({"work": "nut", "price": "much"}, "."),
        ({"work": "wings", "price": "1"}, ""),
        ({"work": "nut", "item": "999999"}, "This is not on the price list any more: choose another."),
    ],
)
def test_an_offer_that_cannot_be_taken_is_answered_beside_it(as_person, ben, planned, sent, says):
    answer = as_person(ben).post(f"/bench/{planned.pk}/plan/offer/", sent)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert not planned.order.lines.exists()


def test_an_order_whose_lines_are_closed_takes_no_offer(as_person, ben, planned):
    planned.order.state = State.COLLECTED
    planned.order.save(update_fields=["state"])
    answer = as_person(ben).post(f"/bench/{planned.pk}/plan/offer/", {"work": "nut", "price": "45"})
    assert answer.status_code == 422
    assert "its lines stay as they are" in answer.content.decode()


def test_the_offer_is_posted_only(as_person, ben, sheet):
    assert as_person(ben).get(f"/bench/{sheet.pk}/plan/offer/").status_code == 405


def test_supposing_heavier_strings_changes_the_page_and_stores_nothing(as_person, ben, planned):
    client = as_person(ben)
    _, page = page_of(client, planned, "?set=electric-6-heavy&tuning=&targets=&stringing=wrapped")
    assert "This page supposes strings heavy electric six" in page
    assert "The strings would pull" in page
    assert "by how much is this neck's own" in page.replace("&#x27;", "'")
    planned.refresh_from_db()
    assert planned.stringing == "through"
    assert planned.strings == build.strings()
    assert Reading.objects.count() == len(HIGH)


def test_supposing_nonsense_is_said_beside_its_field(as_person, ben, planned):
    answer, page = page_of(as_person(ben), planned, "?set=hawsers&tuning=99&targets=x")
    assert answer.status_code == 422
    assert page.count("That is not offered here") == 3
    assert "Tighten the truss rod" in page


def test_a_page_of_the_plan_asks_the_database_little(as_person, ben, planned, django_assert_max_num_queries):
    client = as_person(ben)
    client.get("/bench/")
    with django_assert_max_num_queries(22):
        page_of(client, planned)


@pytest.mark.parametrize("hand", ["right", "left"])
def test_maps_are_drawn_as_it_stands_and_after_the_plan(as_person, ben, planned, hand):
    planned.order.instrument.hand = hand
    planned.order.instrument.save(update_fields=["hand"])
    _, page = page_of(as_person(ben), planned)
    assert page.count("Where strings buzz, fret by fret</title>") == 2
    assert page.count("How true every fret is</title>") == 2
    assert page.count('id="buzz_field-now-t"') == 1


@pytest.mark.parametrize("asked", ["", "?set=electric-6-heavy&tuning=2&stringing=wrapped", "?set=hawsers"])
@pytest.mark.parametrize("values", [{}, HIGH])
def test_the_page_is_valid_html(as_person, ben, sheet, values, asked):
    build.store(sheet, ben, values)
    answer, _ = page_of(as_person(ben), sheet, asked)
    html5lib.HTMLParser(strict=True).parse(answer.content)


def test_other_families_have_a_plan_too(as_person, ben):
    for family, strings in (("pinned", build.SIX), ("flat_plate", build.BASS_FOUR)):
        order = build.at_bench(factories.instrument(family=family, string_count=len(strings)), ben)
        sheet = build.worksheet(order, ben, family=family, spec=build.spec(family), strings=build.strings(strings))
        build.store(sheet, ben, {"received.relief": 0.5} | {f"received.height_12:{row[0]}": 2.6 for row in strings})
        assert "Tighten the truss rod" in page_of(as_person(ben), sheet)[1]
