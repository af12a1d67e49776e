"""What is shown when something is wrong. The page for a fault of ours needs neither database nor settings."""

import pytest
from django.template.loader import render_to_string
from django.test import Client, override_settings

from shop.staff.models import Workshop


@pytest.mark.django_db
def test_unknown_address(as_person, ben):
    answer = as_person(ben).get("/no/such/place/")
    assert answer.status_code == 404
    assert "Nothing is kept under this address" in answer.text


@pytest.mark.django_db
def test_not_ones_own(as_person, ben):
    answer = as_person(ben).get("/office/staff/")
    assert answer.status_code == 403
    assert "This is not yours to open" in answer.text


@pytest.mark.django_db
def test_a_form_from_elsewhere_changes_nothing(ada):
    client = Client(enforce_csrf_checks=True)
    client.force_login(ada)
    answer = client.post("/office/workshop/", {"name": "Taken over"})
    assert answer.status_code == 403
    assert "This page was open too long" in answer.text
    assert Workshop.here().name != "Taken over"


@pytest.mark.django_db
def test_too_many_fields(as_person, ada):
    answer = as_person(ada).post("/office/workshop/", {f"field-{n}": "" for n in range(2100)})
    assert answer.status_code == 400
    assert "could not be read" in answer.text


@pytest.mark.django_db
@override_settings(ROOT_URLCONF="tests.look_urls")
def test_a_fault_of_ours_says_so_and_is_logged(ada, caplog):
    client = Client(raise_request_exception=False)
    client.force_login(ada)
    answer = client.get("/look/breaks/")
    assert answer.status_code == 500
    assert "Something went wrong here" in answer.text
    assert "This page breaks" in caplog.text
    assert "This page breaks" not in answer.text


def test_the_fault_page_needs_no_database():
    assert "Something went wrong here" in render_to_string("500.html")
