"""A workshop that begins empty gets one owner, whose password is said once and kept nowhere in clear."""

import re
from io import StringIO

import pytest
from django.contrib.auth import authenticate
from django.core.management import call_command
from django.utils import timezone

from shop.figures.demo import cast
from shop.staff.models import Person
from tests import factories

pytestmark = pytest.mark.django_db


def said_by(*arguments):
    out = StringIO()
    call_command("first_start", *arguments, stdout=out)
    return out.getvalue()


def password_in(said):
    return re.search(r"with the password (\S+) ", said)[1]


def test_the_owner_can_sign_in_and_may_do_all():
    owner = authenticate(username="owner", password=password_in(said_by()))
    assert owner.may("edit staff")


def test_a_start_that_was_cut_off_gives_a_new_password():
    first = password_in(said_by())
    second = password_in(said_by())
    assert Person.objects.count() == 1
    assert authenticate(username="owner", password=first) is None
    assert authenticate(username="owner", password=second)


def test_an_owner_who_has_signed_in_keeps_the_password():
    password = password_in(said_by())
    Person.objects.update(last_login=timezone.now())
    assert said_by() == ""
    assert authenticate(username="owner", password=password)


@pytest.mark.parametrize("arguments", [(), ("--demo",)], ids=["empty", "demo"])
def test_a_workshop_with_staff_is_left_alone(arguments):
    factories.ada()
    assert said_by(*arguments) == ""
    assert Person.objects.count() == 1


def test_a_start_that_was_cut_off_after_the_demo_was_loaded_still_says_its_sign_ins():
    for name, shown, role in cast.STAFF:
        Person.objects.create_user(username=name, shown_name=shown, role=role, password=cast.PASSWORD)
    said = said_by("--demo")
    assert said.count(cast.PASSWORD) == len(cast.STAFF)
    assert said_by("--demo") == said


def test_a_sign_in_that_was_changed_is_not_said_any_more():
    Person.objects.create_user(username="ilse", shown_name="Ilse", role="owner", password=factories.PASSWORD)
    assert said_by("--demo") == ""
