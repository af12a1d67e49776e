"""Adding, changing and letting go of staff."""

import pytest
from django.utils import timezone

from shop.staff import services
from shop.staff.models import Person
from shop.staff.roles import Role
from tests import factories

pytestmark = pytest.mark.django_db
NEW = {"username": "Dora", "shown_name": "Dora Lund", "role": "bench", "password": "cedar under spruce"}


def test_owner_adds_somebody_who_can_sign_in(as_person, ada, client):
    assert as_person(ada).post("/office/staff/new/", NEW).status_code == 302
    assert client.login(username="dora", password=NEW["password"])


@pytest.mark.parametrize("who", ["ben", "cleo"])
def test_only_the_owner_does(as_person, who, request):
    assert as_person(request.getfixturevalue(who)).post("/office/staff/new/", NEW).status_code == 403


@pytest.mark.parametrize(
    ("field", "value", "says"),
    [("password", "short", "too short"), ("username", "ada", "already"), ("shown_name", "", "required"),
     ("role", "king", "valid choice"), ("username", "two words", "valid")],
)  # fmt: skip
def test_bad_input_is_said_beside_its_field(as_person, ada, field, value, says):
    answer = as_person(ada).post("/office/staff/new/", NEW | {field: value})
    assert answer.status_code == 422
    assert says in answer.text
    assert Person.objects.count() == 1


def test_a_leaver_is_signed_out_at_once(client, ada, ben):
    client.login(username="ben", password=factories.PASSWORD)
    assert client.get("/password/").status_code == 200
    services.change_person(ben, shown_name="Ben", role=Role.BENCH, is_active=False)
    assert client.get("/password/").status_code == 302


def test_a_leaver_leaves_no_way_in_behind(ada, ben):
    services.set_pin(ben, "2580")
    Person.objects.filter(pk=ben.pk).update(reset_asked_at=timezone.now())
    services.change_person(ben, shown_name="Ben", role=Role.BENCH, is_active=False)
    ben.refresh_from_db()
    assert (ben.pin, ben.reset_asked_at) == ("", None)


@pytest.mark.parametrize(("role", "active"), [(Role.BENCH, True), (Role.OWNER, False)])
def test_the_last_owner_stays(ada, role, active):
    with pytest.raises(services.NotAllowed, match="Somebody must stay owner"):
        services.change_person(ada, shown_name="Ada", role=role, is_active=active)
    ada.refresh_from_db()
    assert (ada.role, ada.is_active) == (Role.OWNER, True)


def test_the_last_owner_is_told_on_the_page(as_person, ada):
    answer = as_person(ada).post(f"/office/staff/{ada.pk}/", {"shown_name": "Ada", "role": "bench", "is_active": "on"})
    assert answer.status_code == 422
    assert "Somebody must stay owner" in answer.text


def test_unknown_person_is_404(as_person, ada):
    assert as_person(ada).get("/office/staff/999/").status_code == 404


def test_a_new_password_ends_their_other_sign_ins(client, ada, ben):
    client.login(username="ben", password=factories.PASSWORD)
    services.change_person(ben, shown_name="Ben", role=Role.BENCH, is_active=True, password="cedar under spruce")
    assert client.get("/password/").status_code == 302


def test_owner_who_sets_their_own_password_stays_signed_in(as_person, ada):
    client = as_person(ada)
    changed = {"shown_name": "Ada", "role": "owner", "is_active": "on", "password": "cedar under spruce"}
    assert client.post(f"/office/staff/{ada.pk}/", changed).status_code == 302
    assert client.get("/office/staff/").status_code == 200


def test_owner_who_steps_down_goes_where_they_may_go(as_person, ada):
    factories.person("olga", Role.OWNER)
    answer = as_person(ada).post(f"/office/staff/{ada.pk}/", {"shown_name": "Ada", "role": "bench", "is_active": "on"})
    assert answer["Location"] == "/"


def test_a_closed_account_that_opens_again_needs_a_new_sign_in(client, ada, ben):
    client.login(username="ben", password=factories.PASSWORD)
    services.change_person(ben, shown_name="Ben", role=Role.BENCH, is_active=False)
    services.change_person(ben, shown_name="Ben", role=Role.BENCH, is_active=True)
    assert client.get("/password/").status_code == 302
