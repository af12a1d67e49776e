"""The owner's target profiles."""

import pytest

from shop.worksheets import profiles
from shop.worksheets.models import TargetProfile


@pytest.fixture
def usual(db):
    profiles.ensure_usual_profiles()
    return TargetProfile.objects.get(kind="electric")


def typed(profile, **changes):
    """The form as the page would send it unchanged, with `changes`."""
    sent = {"name": profile.name, "kind": profile.kind}
    for key in profiles.KEYS:
        sent[f"{key}-low"] = sent[f"{key}-high"] = ""
    for one in profile.ranges.all():
        sent[f"{one.key}-low"] = "" if one.low is None else f"{one.low:g}"
        sent[f"{one.key}-high"] = "" if one.high is None else f"{one.high:g}"
    return sent | {name.replace("__", "-"): value for name, value in changes.items()}


def test_every_kind_has_its_profiles_listed(as_person, ada):
    page = as_person(ada).get("/office/profiles/").content.decode()
    for text in ("Electric, usual", "Nylon, usual", "between 0.10 and 0.30 mm", "at least 0.40 mm"):
        assert text in page


def test_a_range_is_changed_in_any_unit_and_the_others_stay(as_person, ada, usual):
    before = {one.key: (one.low, one.high) for one in usual.ranges.all()}
    sent = typed(usual, relief__high="1/64 in", name="Electric, ours")
    assert as_person(ada).post(f"/office/profiles/{usual.pk}/", sent).url == "/office/profiles/"
    after = {one.key: (one.low, one.high) for one in usual.ranges.all()}
    assert after.pop("relief") == (0.1, pytest.approx(25.4 / 64))
    del before["relief"]
    assert after == before
    usual.refresh_from_db()
    assert usual.name == "Electric, ours"


def test_an_emptied_range_goes(as_person, ada, usual):
    as_person(ada).post(f"/office/profiles/{usual.pk}/", typed(usual, relief__low="", relief__high=""))
    assert not usual.ranges.filter(key="relief").exists()


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"relief__low": "0.9"}, "The upper end must not be below the lower one."),
        ({"relief__low": "a hair"}, "Write "),
        ({"name": ""}, "Give the profile a name."),
        ({"name": "Nylon, usual"}, "Another profile has this name already."),
    ],
)
def test_what_makes_no_sense_is_422_and_stays_in_its_field(as_person, ada, usual, changes, sentence):
    answer = as_person(ada).post(f"/office/profiles/{usual.pk}/", typed(usual, **changes))
    assert answer.status_code == 422
    page = answer.content.decode()
    assert sentence in page
    assert all(value in page for value in changes.values())
    assert usual.ranges.get(key="relief").low == 0.1


def test_a_copy_has_its_own_name_and_the_same_ranges(as_person, ada, usual):
    client = as_person(ada)
    client.post(f"/office/profiles/{usual.pk}/copy/")
    client.post(f"/office/profiles/{usual.pk}/copy/")
    first, second = TargetProfile.objects.filter(name__contains="copy").order_by("pk")
    assert (first.name, second.name) == ("Electric, usual, copy", "Electric, usual, copy 2")
    assert profiles.targets_of(first) == profiles.targets_of(usual)
    assert not first.is_usual


def test_one_is_usual_for_its_kind(as_person, ada, usual):
    client = as_person(ada)
    client.post(f"/office/profiles/{usual.pk}/copy/")
    other = TargetProfile.objects.get(name="Electric, usual, copy")
    client.post(f"/office/profiles/{other.pk}/usual/")
    assert profiles.usual_for("electric") == other


def test_the_usual_one_is_not_deleted_but_another_is(as_person, ada, usual):
    client = as_person(ada)
    client.post(f"/office/profiles/{usual.pk}/copy/")
    other = TargetProfile.objects.get(name="Electric, usual, copy")
    client.post(f"/office/profiles/{usual.pk}/delete/")
    client.post(f"/office/profiles/{other.pk}/delete/")
    assert list(TargetProfile.objects.filter(kind="electric")) == [usual]


def test_a_usual_one_moved_to_another_kind_gives_way_there(as_person, ada, usual):
    as_person(ada).post(f"/office/profiles/{usual.pk}/", typed(usual, kind="bass"))
    assert profiles.usual_for("bass").name == "Bass, usual"


def test_only_the_owner(as_person, ben, cleo, ada, usual):
    for person in (ben, cleo):
        assert as_person(person).get("/office/profiles/").status_code == 403
        assert as_person(person).post(f"/office/profiles/{usual.pk}/copy/").status_code == 403
    client = as_person(ada)
    assert client.get(f"/office/profiles/{usual.pk}/copy/").status_code == 405
    assert client.get("/office/profiles/999/").status_code == 404
