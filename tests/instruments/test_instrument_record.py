"""An instrument's record: new, changed, deleted."""

import pytest

from shop.instruments import services
from shop.instruments.kinds import Kind, usual_of
from shop.instruments.models import Instrument
from tests import counter_builders, factories

pytestmark = pytest.mark.django_db
WHOLE = {
    "kind": "bass", "family": "flat_plate", "string_count": "5", "hand": "left", "stringing": "through",
    "maker": "Tinhollow", "serial": "TH 90-1",
}  # fmt: skip


def test_a_new_one(as_person, ben):
    owner = factories.customer()
    answer = as_person(ben).post(f"/customers/{owner.pk}/instruments/new/", WHOLE)
    one = Instrument.objects.get()
    assert answer["Location"] == f"/instruments/{one.pk}/"
    assert (one.customer, one.kind, one.string_count, one.serial_key) == (owner, "bass", 5, "th901")


@pytest.mark.parametrize(
    ("field", "typed"),
    [("string_count", "3"), ("string_count", "13"), ("string_count", "x"), ("kind", "drum"), ("maker", "x" * 81)],
)
def test_bad_input(as_person, ben, field, typed):
    owner = factories.customer()
    answer = as_person(ben).post(f"/customers/{owner.pk}/instruments/new/", WHOLE | {field: typed})
    assert answer.status_code == 422
    assert all(error.endswith(".") for error in answer.context["form"].errors[field])
    assert not Instrument.objects.exists()


def test_change_writes_only_what_was_changed(as_person, ben):
    one = factories.instrument(colour="walnut")
    shown = {
        "kind": "electric", "family": "two_post_stop", "string_count": "6", "hand": "right", "stringing": "through",
        "maker": "Larkrise", "model_name": "Two-Post", "serial": "LR-0412", "colour": "walnut",
    }  # fmt: skip
    Instrument.objects.filter(pk=one.pk).update(colour="sunburst")
    seen = {f"initial-{name}": value for name, value in shown.items()}
    as_person(ben).post(f"/instruments/{one.pk}/edit/", shown | seen | {"serial": "LR 0413"})
    one.refresh_from_db()
    assert (one.serial, one.serial_key, one.colour) == ("LR 0413", "lr0413", "sunburst")


def test_a_slip_can_be_deleted(as_person, ben):
    one = factories.instrument()
    assert as_person(ben).post(f"/instruments/{one.pk}/delete/")["Location"] == f"/customers/{one.customer_id}/"
    assert not Instrument.objects.exists()


def test_what_was_booked_in_stays(as_person, cleo):
    order = counter_builders.booked(cleo)
    answer = as_person(cleo).post(f"/instruments/{order.instrument_id}/delete/", follow=True)
    assert "so its record stays" in answer.content.decode()
    with pytest.raises(services.NotAllowed):
        services.delete_instrument(order.instrument)


def test_methods(as_person, ben):
    one = factories.instrument()
    client = as_person(ben)
    assert client.get(f"/instruments/{one.pk}/delete/").status_code == 405
    assert client.post(f"/instruments/{one.pk}/").status_code == 405


@pytest.mark.parametrize(
    "path",
    ["/instruments/999/", "/instruments/999/edit/", "/customers/999/instruments/new/", "/instruments/999/strings/"],
)
def test_not_there(as_person, ben, path):
    assert as_person(ben).get(path).status_code == 404


@pytest.mark.parametrize("kind", Kind.values)
def test_every_kind_offers_what_is_usual(kind):
    family, strings = usual_of(kind)
    assert factories.instrument(kind=kind, family=family, string_count=strings).full_clean() is None
