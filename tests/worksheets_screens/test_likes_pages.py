"""How a player likes it is written down on the instrument and on the customer, and shown there and on the sheet."""

import pytest

from shop.worksheets import profiles, services
from shop.worksheets.models import TargetProfile, Taste
from tests import factories
from tests import worksheet_builders as build
from tests.worksheets_screens.test_profile_pages import typed


@pytest.fixture
def guitar(db):
    profiles.ensure_usual_profiles()
    return factories.instrument()


def sent(**changes):
    empty = {f"{key}-{end}": "" for key in profiles.KEYS for end in ("low", "high")}
    return empty | {name.replace("__", "-"): value for name, value in changes.items()}


def test_it_is_written_down_shown_and_cleared(as_person, cleo, guitar):
    client, address = as_person(cleo), f"/instruments/{guitar.pk}/likes/"
    assert client.post(address, sent(relief__low="0.05", relief__high="1/128 in")).url == f"/instruments/{guitar.pk}/"
    assert Taste.objects.get().ranges == {"relief": [0.05, pytest.approx(25.4 / 128)]}
    assert "between 0.05 and 0.20 mm" in client.get(f"/instruments/{guitar.pk}/").content.decode()
    client.post(address, sent(relief__low="0.05", relief__high="0.1984"))
    assert Taste.objects.get().ranges["relief"][1] == 25.4 / 128  # untouched, so not rounded
    client.post(address, sent())
    assert not Taste.objects.exists()


def test_a_customers_holds_for_every_instrument_of_the_kind(as_person, ben, guitar):
    client = as_person(ben)
    address = f"/customers/{guitar.customer_id}/likes/electric/"
    client.post(address, sent(octave__low="-1"))
    assert Taste.objects.get().ranges == {"octave": [-1.0, None]}
    for page in (f"/customers/{guitar.customer_id}/", f"/instruments/{guitar.pk}/"):
        assert "at least −1.0 cents" in client.get(page).content.decode()
    sheet = services.start_worksheet(build.at_bench(guitar, ben), by=ben)
    assert "and as the player likes it" in client.get(f"/bench/{sheet.pk}/inspect/").content.decode()


def test_what_cannot_be_read_stays_in_its_field(as_person, ben, guitar):
    answer = as_person(ben).post(f"/instruments/{guitar.pk}/likes/", sent(relief__low="a hair"))
    assert answer.status_code == 422
    assert 'value="a hair"' in answer.content.decode()


def test_no_such_kind_is_not_found(as_person, ben, guitar):
    assert as_person(ben).get(f"/customers/{guitar.customer_id}/likes/zither/").status_code == 404


def signed_sheet(guitar, ben):
    done = build.finished(build.at_bench(guitar, ben), ben)
    services.sign_off(done, by=ben)


def test_looking_saves_nothing_and_says_what_would_turn(as_person, ada, ben, guitar):
    signed_sheet(guitar, ben)
    usual = TargetProfile.objects.get(kind="electric")
    page = as_person(ada).post(f"/office/profiles/{usual.pk}/", typed(usual, relief__high="0.15", look="1"))
    assert page.status_code == 200
    assert "verdicts would turn" in page.content.decode()
    assert "relief: 0.20 mm, in range → <strong>out of range" in page.content.decode()
    assert usual.ranges.get(key="relief").high == 0.3


def test_looking_from_a_players_page(as_person, ben, guitar):
    signed_sheet(guitar, ben)
    answer = as_person(ben).post(f"/instruments/{guitar.pk}/likes/", sent(relief__low="0.4", look="1"))
    assert "0.20 mm, in range → <strong>out of range" in answer.content.decode()
    assert not Taste.objects.exists()


def test_a_shop_without_signed_sheets_is_told_so(as_person, ben, guitar):
    answer = as_person(ben).post(f"/instruments/{guitar.pk}/likes/", sent(relief__low="0.4", look="1"))
    assert "nothing to try it on" in answer.content.decode()
