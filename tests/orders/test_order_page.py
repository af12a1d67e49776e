"""An order's page: everything about one job."""

from datetime import date
from decimal import Decimal

import pytest

from shop.orders import services
from shop.orders.models import ConditionMark, Event
from shop.orders.page import NEXT, OrderPage, folded
from shop.orders.services import NewLine
from shop.orders.states import State
from tests import pictures
from tests.counter_builders import booked
from tests.counting import queries_of

pytestmark = pytest.mark.django_db
SETUP = NewLine("Setup", Decimal("85.00"), Decimal(20))


@pytest.fixture
def order(cleo):
    marks = (
        ConditionMark(side="front", x=0.7, y=0.84, note="dent"),
        ConditionMark(side="back", x=0.5, y=0.68, note="crack"),
    )
    return booked(
        cleo, lines=(SETUP,), marks=marks, came_with="hard case", promised_on=date(2030, 1, 7), rack_slot="B2"
    )


def test_it_shows_everything(as_person, cleo, order):
    services.add_photo(order, pictures.photo(), by=cleo, caption="headstock")
    text = as_person(cleo).get(f"/orders/{order.number}/").content.decode()
    for said in (
        order.number, "Mara Fell", "Larkrise Two-Post", "Mon 7 Jan 2030", "B2", "Setup", "€85.00", "hard case",
        "Buzzes on the low string.", "dent", "lower body, treble side", "crack", "headstock", "Booked in:",
    ):  # fmt: skip
        assert said in text


def test_marks_are_drawn_where_they_are(order):
    page = OrderPage.of(order)
    assert [(one.number, one.place) for one in page.marks] == [
        (1, "lower body, treble side"),
        (2, "middle of the body"),
    ]


@pytest.mark.parametrize("state", State)
def test_every_state_has_a_page_and_a_next_step(as_person, ada, cleo, state):
    order = booked(cleo)
    type(order).objects.update(state=state)
    text = as_person(ada).get(f"/orders/{order.number}/").content.decode()
    assert NEXT[state].split(",")[0] in text


def test_a_line_without_an_answer_is_the_next_step(order):
    assert OrderPage.of(order).next_step == "One line waits for the customer's answer."


@pytest.mark.parametrize(
    ("promised", "state", "late"),
    [
        (date(2020, 1, 1), State.ON_BENCH, True),
        (date(2020, 1, 1), State.READY, False),
        (date(2090, 1, 1), State.ON_BENCH, False),
        (None, State.ON_BENCH, False),
    ],
)
def test_late_is_what_was_promised_and_is_not_done(order, promised, state, late):
    order.promised_on, order.state = promised, state
    assert OrderPage.of(order).is_late is late


def test_what_people_typed_is_only_text(as_person, cleo):
    order = booked(
        cleo, complaint="<script>alert(1)</script>", marks=(ConditionMark(x=0.5, y=0.5, note="<img src=x>"),)
    )
    text = as_person(cleo).get(f"/orders/{order.number}/").content.decode()
    assert "<script>alert" not in text
    assert "<img src=x>" not in text


def test_a_collected_order_offers_no_change(as_person, cleo, order):
    type(order).objects.update(state=State.COLLECTED)
    text = as_person(cleo).get(f"/orders/{order.number}/").content.decode()
    for action in ("/lines/pick/", "/promise/", "/marks/", "/photos/", "/details/"):
        assert f"/orders/{order.number}{action}" not in text


def test_more_of_everything_asks_no_more(as_person, cleo, order):
    client = as_person(cleo)
    services.add_mark(order, side="front", x=0.1, y=0.9, note_text="dent", by=cleo)
    services.add_photo(order, pictures.photo(), by=cleo)
    few = queries_of(client, f"/orders/{order.number}/")
    services.add_lines(order, [SETUP] * 5, by=cleo)
    for number in range(5):
        services.add_mark(order, side="front", x=0.1, y=0.1 * number, note_text="dent", by=cleo)
        services.add_photo(order, pictures.photo(), by=cleo)
    assert queries_of(client, f"/orders/{order.number}/") == few


def test_not_there(as_person, cleo):
    assert as_person(cleo).get("/orders/26-9999/").status_code == 404


def test_post_is_refused(as_person, cleo, order):
    assert as_person(cleo).post(f"/orders/{order.number}/").status_code == 405


def test_routine_lines_are_folded():
    run = [Event(what=what) for what in ("moved", "step_done", "step_done", "noted", *["step_done"] * 3, "moved")]
    assert [(len(one.events), one.folded) for one in folded(run)] == [
        (1, False), (2, False), (1, False), (3, True), (1, False),
    ]  # fmt: skip
