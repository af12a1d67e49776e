"""The step's plain form: only what was changed is saved, once, and two hands are asked which holds."""

import uuid

from shop.worksheets.models import Reading, Standing


def save(client, sheet, once=None, **fields):
    sent = {"once": once or uuid.uuid4(), "unit": "mm", "o-bench-relief": "", "b-bench-relief": ""}
    sent |= {name.replace("__", "-"): value for name, value in fields.items()}
    return client.post(f"/bench/{sheet.pk}/relief/save-all/", sent)


def test_only_changed_fields_are_saved_and_the_same_form_once(as_person, ben, sheet):
    client, once = as_person(ben), uuid.uuid4()
    for _ in range(2):
        assert save(client, sheet, once, **{"f-bench-relief": "0.2"}).url == f"/bench/{sheet.pk}/relief/"
    save(client, sheet, **{"f-bench-relief": "0.2", "o-bench-relief": "0.2"})
    assert Reading.objects.get().value == 0.2


def test_what_another_hand_saved_meanwhile_asks_which_holds(as_person, ben, sheet):
    client = as_person(ben)
    save(client, sheet, **{"f-bench-relief": "0.2"})
    save(client, sheet, **{"f-bench-relief": "0.3"})
    assert Reading.objects.get(raw="0.3").standing == Standing.RIVAL
    assert "Which one holds?" in client.get(f"/bench/{sheet.pk}/relief/").content.decode()


def test_a_form_that_is_none_is_422(as_person, ben, sheet):
    assert as_person(ben).post(f"/bench/{sheet.pk}/relief/save-all/", {}).status_code == 422


def test_the_unit_of_the_page_goes_along(as_person, ben, sheet):
    save(as_person(ben), sheet, **{"f-bench-relief": "0.008", "unit": "in"})
    assert round(Reading.objects.get().value, 4) == 0.2032
