"""The workshop's own details."""

import pytest

from shop.staff.entry_forms import RulesForm
from shop.staff.forms import WorkshopForm
from shop.staff.models import Workshop

pytestmark = pytest.mark.django_db


def filled(**changes):
    """What a browser sends of the page as it stands, with these changes; each field with what it showed before."""
    form = WorkshopForm(instance=Workshop.here())
    shown = {name: form[name].value() for name in form.fields}
    typed = {name: value for name, value in (shown | changes).items() if value is not None and value is not False}
    return typed | {f"initial-{name}": "" if value is None else value for name, value in shown.items()}


def test_owner_saves_them(as_person, ada):
    answer = as_person(ada).post("/office/workshop/", filled(name="Reed & Bow", currency="chf", paper="Letter"))
    assert answer.status_code == 302
    assert (Workshop.here().name, Workshop.here().currency, Workshop.here().paper) == ("Reed & Bow", "CHF", "Letter")


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"time_zone": "Moon/Base"}, "Choose a zone"),
        ({"currency": "E1"}, "capital letters"),
        ({"iban": "DE89370400440532013001"}, "not a valid IBAN"),
        ({"country": "Germany"}, "two capital letters"),
        ({"country": "uk"}, "Write GB for UK"),
        ({"tax_rate": "a fifth"}, "Write a rate such as"),
        ({"invoice_prefix": "R/"}, "capital letters, figures and hyphens"),
        ({"invoice_prefix": "c"}, "credit notes"),
        ({"bench_hours_a_day": "25"}, "less than or equal to 24"),
        ({"tax_rate": "-1"}, "greater than or equal to 0"),
        ({"reference_pitch_hz": "nan"}, "number"),
    ],
)
def test_nonsense_is_said_and_kept(as_person, ada, changes, says):
    answer = as_person(ada).post("/office/workshop/", filled(name="Typed name", **changes))
    assert answer.status_code == 422
    assert says in answer.text
    assert "Typed name" in answer.text
    assert Workshop.here().name != "Typed name"


def test_only_the_owner(as_person, ben, cleo):
    for person in (ben, cleo):
        assert as_person(person).get("/office/workshop/").status_code == 403


def test_there_is_one_workshop(db):
    assert Workshop.here() == Workshop.here()
    assert Workshop.objects.count() == 1


def test_every_detail_can_be_set(db):
    ours = {field.name for field in Workshop._meta.get_fields() if field.name != "id" and field.editable}
    forms = [form(instance=Workshop.here()).fields for form in (WorkshopForm, RulesForm)]
    assert set().union(*forms) == ours


def test_two_owners_at_once_each_keep_what_they_changed(as_person, ada):
    sent = filled(phone="+44 1632 960200")
    Workshop.objects.update(website="bow.example.com")
    assert as_person(ada).post("/office/workshop/", sent).status_code == 302
    assert (Workshop.here().phone, Workshop.here().website) == ("+44 1632 960200", "bow.example.com")


def test_the_same_detail_changed_by_two_is_said(as_person, ada):
    sent = filled(website="reed.example.com")
    Workshop.objects.update(website="bow.example.com")
    answer = as_person(ada).post("/office/workshop/", sent)
    assert answer.status_code == 422
    assert "bow.example.com" in answer.text
    assert Workshop.here().website == "bow.example.com"


def test_figures_are_read_as_people_write_them(as_person, ada):
    assert (
        as_person(ada).post("/office/workshop/", filled(tax_rate="5,5", iban="DE89 3704 0044 0532 0130 00")).status_code
        == 302
    )
    assert str(Workshop.here().tax_rate) == "5.50"


def test_places_are_offered_as_time_zones_and_what_stands_stays(db):
    workshop = Workshop.here()
    workshop.time_zone = "GB-Eire"
    offered = [zone for zone, _ in WorkshopForm(instance=workshop).fields["time_zone"].choices]
    assert {"Europe/Berlin", "America/Argentina/Ushuaia", "UTC", "GB-Eire"} <= set(offered)
    assert not {"Factory", "localtime", "Etc/GMT+0", "US/Eastern"} & set(offered)
