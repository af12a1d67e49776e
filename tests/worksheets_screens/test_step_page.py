"""A step's page, for every bridge family, number of strings and hand."""

import pytest

from shop.worksheets.families import FAMILIES
from tests import factories
from tests import worksheet_builders as build


def made(ben, family="two_post_stop", *, hand="right", **fields):
    instrument = factories.instrument(family=family, hand=hand)
    return build.worksheet(build.at_bench(instrument, ben), ben, family=family, **fields)


@pytest.mark.parametrize("family", sorted(FAMILIES))
def test_every_step_of_every_family_has_its_page(as_person, ben, family):
    sheet = made(ben, family)
    client = as_person(ben)
    for step in FAMILIES[family].steps:
        page = client.get(f"/bench/{sheet.pk}/{step.key}/")
        assert page.status_code == 200
        assert step.do.split(".")[0].replace("'", "&#x27;") in page.content.decode()


@pytest.mark.parametrize("count", [4, 7, 12])
def test_any_number_of_strings_is_shown_bass_to_treble(as_person, ben, count):
    rows = [{**build.strings()[0], "number": number} for number in range(count, 0, -1)]
    sheet = made(ben, strings=rows)
    page = as_person(ben).get(f"/bench/{sheet.pk}/nut/").content.decode()
    places = [page.index(f'id="f-bench-nut_gap-{number}"') for number in range(count, 0, -1)]
    assert places == sorted(places)


def test_a_left_handed_player_sees_the_row_mirrored(as_person, ben):
    sheet = made(ben, hand="left")
    page = as_person(ben).get(f"/bench/{sheet.pk}/nut/").content.decode()
    assert page.index('id="f-bench-nut_gap-1"') < page.index('id="f-bench-nut_gap-6"')


def test_target_received_and_last_left_stand_beside_the_field(as_person, ben):
    order = build.at_bench(factories.instrument(), ben)
    before = build.worksheet(order, ben)
    build.store(before, ben, {"left.relief": 0.17})
    before.signed_at, before.signed_by = before.started_at, ben
    before.save(update_fields=["signed_at", "signed_by"])
    sheet = build.worksheet(build.at_bench(order.instrument, ben), ben)
    build.store(sheet, ben, {"received.relief": 0.43})
    page = as_person(ben).get(f"/bench/{sheet.pk}/relief/").content.decode()
    for text in ("left last time</span> 0.17", "as received</span> 0.43", "target</span> 0.10–"):
        assert text in page


def test_a_signed_sheet_is_read_only(as_person, ben):
    sheet = made(ben)
    sheet.signed_at, sheet.signed_by = sheet.started_at, ben
    sheet.save(update_fields=["signed_at", "signed_by"])
    page = as_person(ben).get(f"/bench/{sheet.pk}/relief/").content.decode()
    assert "read only" in page
    assert "disabled" in page
    assert "Step is done" not in page


def test_the_counter_reads_and_cannot_write(as_person, cleo, ben):
    page = as_person(cleo).get(f"/bench/{made(ben).pk}/relief/")
    assert page.status_code == 200
    assert "Step is done" not in page.content.decode()


def test_unknown_sheet_and_step_are_404(as_person, ben):
    client = as_person(ben)
    assert client.get("/bench/999/").status_code == 404
    assert client.get(f"/bench/{made(ben).pk}/no-such/").status_code == 404


def test_posting_is_405(as_person, ben):
    assert as_person(ben).post(f"/bench/{made(ben).pk}/relief/").status_code == 405


def test_the_sheet_leads_to_the_step_where_the_work_stands(as_person, ben):
    sheet = made(ben)
    client = as_person(ben)
    assert client.get(f"/bench/{sheet.pk}/").url == f"/bench/{sheet.pk}/inspect/"
    build.mark_all(sheet, ben, but=("height",))
    assert client.get(f"/bench/{sheet.pk}/").url == f"/bench/{sheet.pk}/height/"


def test_as_many_queries_however_much_was_read(as_person, ben, django_assert_max_num_queries):
    sheet = made(ben)
    client = as_person(ben)
    client.get(f"/bench/{sheet.pk}/nut/")
    with django_assert_max_num_queries(18) as before:
        client.get(f"/bench/{sheet.pk}/nut/")
    build.store(sheet, ben, build.six("nut_gap", [0.2] * 6) | {"relief": [0.2] * 30})
    with django_assert_max_num_queries(len(before)):
        client.get(f"/bench/{sheet.pk}/nut/")
