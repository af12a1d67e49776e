"""What is written down about an order: words, promise, rack, remarks, marks."""

from datetime import date, timedelta

import pytest

from shop.lib.dates import today
from shop.orders import services
from shop.orders.services import NotAllowed
from shop.orders.states import State
from tests import factories
from tests.counter_builders import booked

pytestmark = pytest.mark.django_db


@pytest.fixture
def order(cleo):
    return booked(cleo, promised_on=date(2030, 1, 7))


@pytest.fixture
def post(as_person, ben, order):
    client = as_person(ben)
    return lambda path, **typed: client.post(f"/orders/{order.number}/{path}", typed)


def closed(order):
    type(order).objects.update(state=State.COLLECTED)
    return order


# The words


def words(order, **typed):
    shown = {name: getattr(order, name) for name in ("complaint", "condition", "came_with", "bench_note")}
    shown["priority"] = order.priority
    return shown | {f"initial-{name}": value for name, value in shown.items()} | typed


def test_words_are_changed_and_the_history_says_which(post, order, ben):
    post("details/", **words(order, condition="worn at the edge"))
    order.refresh_from_db()
    assert order.condition == "worn at the edge"
    event = order.events.get(what="details_changed")
    assert (event.by, event.text) == (ben, "Changed: condition in words.")


def test_two_who_write_different_things(post, order):
    type(order).objects.update(came_with="hard case")
    post("details/", **words(order, condition="worn"))
    order.refresh_from_db()
    assert (order.condition, order.came_with) == ("worn", "hard case")


def test_nothing_changed_leaves_no_line(post, order):
    post("details/", **words(order))
    assert not order.events.filter(what="details_changed").exists()


@pytest.mark.parametrize(("field", "typed"), [("complaint", ""), ("complaint", "x" * 3001), ("priority", "9")])
def test_words_that_cannot_be(post, order, field, typed):
    answer = post("details/", **words(order, **{field: typed}))
    assert answer.status_code == 422
    assert all(error.endswith(".") for error in answer.context["form"].errors[field])


def test_needed_on_a_date_needs_a_promise(post, order):
    type(order).objects.update(promised_on=None)
    order.refresh_from_db()
    assert post("details/", **words(order, priority="2")).status_code == 422


def test_words_of_a_collected_order_stay(order, ben):
    with pytest.raises(NotAllowed, match="stays as it is"):
        services.change_details(closed(order), {"condition": "new"}, by=ben)


# The promise


def test_a_promise_is_moved_with_its_reason(post, order):
    day = today() + timedelta(days=20)
    post("promise/", promised_on=day.isoformat(), reason="studs are late")
    order.refresh_from_db()
    assert order.promised_on == day
    assert order.events.get(what="promised").text.endswith(": studs are late")


def test_a_promise_can_be_taken_back(post, order):
    post("promise/", promised_on="")
    order.refresh_from_db()
    assert order.promised_on is None


@pytest.mark.parametrize("typed", ["2020-01-01", "2126-01-01", "soon", "2027-02-30"])
def test_a_promise_that_cannot_be(post, order, typed):
    answer = post("promise/", promised_on=typed)
    assert answer.status_code == 422
    assert all(error.endswith(".") for error in answer.context["page"].form["promise"].errors["promised_on"])
    order.refresh_from_db()
    assert order.promised_on == date(2030, 1, 7)


def test_the_same_promise_leaves_no_line(order, ben):
    services.promise(order, date(2030, 1, 7), by=ben)
    assert not order.events.filter(what="promised").exists()


# The rack


def test_it_is_put_on_the_rack(post, order):
    post("rack/", rack_slot=" B2 ")
    order.refresh_from_db()
    assert order.rack_slot == "B2"
    assert order.events.get(what="racked").text == "Rack: none → B2."


def test_the_same_place_leaves_no_line(order, ben):
    services.put_on_rack(order, "B2", by=ben)
    services.put_on_rack(order, "B2", by=ben)
    assert order.events.filter(what="racked").count() == 1


def test_a_place_that_cannot_be(post, order):
    assert post("rack/", rack_slot="x" * 41).status_code == 422


# Remarks


def test_a_remark_is_written_into_the_history(post, order, ben):
    post("note/", text="Called, nobody there.")
    assert (order.events.last().text, order.events.last().by) == ("Called, nobody there.", ben)


@pytest.mark.parametrize("typed", ["", "   ", "x" * 1001])
def test_a_remark_that_is_none(post, order, typed):
    assert post("note/", text=typed).status_code == 422


def test_a_collected_order_may_still_be_remarked_on(post, order):
    closed(order)
    post("note/", text="Rang: very happy.")
    assert order.events.last().what == "noted"


# Marks


def test_a_mark_is_tapped(post, order):
    answer = post("marks/", **{"mark-side": "back", "mark-x": "0.25", "mark-y": "0.5", "mark-note": "dent"})
    assert answer["Location"] == f"/orders/{order.number}/#condition"
    mark = order.marks.get()
    assert (mark.side, mark.x, mark.y, mark.note) == ("back", 0.25, 0.5, "dent")


@pytest.mark.parametrize(
    ("side", "hand", "x"),
    [("front", "right", 0.24), ("back", "right", 0.76), ("front", "left", 0.76), ("back", "left", 0.24)],
)
def test_or_named_by_its_place(post, order, side, hand, x):
    order.instrument.hand = hand
    order.instrument.save(update_fields=["hand"])
    post("marks/", **{"mark-side": side, "mark-place": "lower-bass", "mark-note": "dent"})
    assert order.marks.get().x == pytest.approx(x)


NO_MARKS = [
    {},
    {"mark-note": "dent"},
    {"mark-x": "0.5", "mark-y": "0.5"},
    {"mark-x": "2", "mark-y": "0.5", "mark-note": "dent"},
    {"mark-x": "nan", "mark-y": "0.5", "mark-note": "dent"},
    {"mark-place": "moon", "mark-note": "dent"},
]


@pytest.mark.parametrize("typed", NO_MARKS)
def test_a_mark_that_cannot_be(post, order, typed):
    answer = post("marks/", **{"mark-side": "front"} | typed)
    assert answer.status_code == 422
    assert not order.marks.exists()


def test_a_mark_is_taken_off_and_remembered(post, order, ben):
    mark = services.add_mark(order, side="front", x=0.5, y=0.5, note_text="dent", by=ben)
    post(f"marks/{mark.pk}/remove/")
    assert not order.marks.exists()
    assert order.events.get(what="mark_removed").data["was"]["note"] == "dent"


def test_another_orders_mark_is_not_found(post, ben):
    other = booked(ben, customer=factories.customer(name="Other"))
    mark = services.add_mark(other, side="front", x=0.5, y=0.5, note_text="dent", by=ben)
    assert post(f"marks/{mark.pk}/remove/").status_code == 404


@pytest.mark.parametrize("path", ["promise/", "rack/", "note/", "marks/", "photos/"])
def test_get_is_refused(as_person, ben, order, path):
    assert as_person(ben).get(f"/orders/{order.number}/{path}").status_code == 405
