"""Starting targets: common practice, no source; the shop's own once they are made."""

import pytest

from shop.instruments.kinds import Kind
from shop.worksheets import profiles
from shop.worksheets.models import TargetProfile, TargetRange

pytestmark = pytest.mark.django_db


def test_every_kind_has_one_usual_profile():
    profiles.ensure_usual_profiles()
    usual = TargetProfile.objects.filter(is_usual=True).values_list("kind", flat=True)
    assert sorted(usual) == sorted(Kind.values)


def test_a_second_time_changes_nothing_and_keeps_what_the_shop_edited():
    profiles.ensure_usual_profiles()
    TargetRange.objects.filter(profile__kind="electric", key="relief").update(low=0.05)
    count = TargetRange.objects.count()
    profiles.ensure_usual_profiles()
    assert TargetRange.objects.count() == count
    assert TargetRange.objects.get(profile__kind="electric", key="relief").low == 0.05


def test_a_shop_with_its_own_usual_profile_is_left_alone():
    own = TargetProfile.objects.create(name="Ours", kind="electric", is_usual=True)
    profiles.ensure_usual_profiles()
    assert profiles.usual_for("electric") == own


def test_the_usual_profile_is_made_when_first_needed():
    assert profiles.usual_for("bass").name == "Bass, usual"


@pytest.mark.parametrize(
    ("kind", "key", "pair"),
    [
        ("electric", "relief", [0.10, 0.30]),
        ("electric", "edge_clearance", [0.4, None]),
        ("steel", "height_12_bass", [2.2, 2.8]),
        ("bass", "break_angle", [6.0, 25.0]),
        ("nylon", "octave", [-4.0, 4.0]),
    ],
)
def test_targets_are_the_usual_ones(kind, key, pair):
    assert profiles.targets_of(profiles.usual_for(kind))[key] == pair


def test_every_range_has_a_known_key_and_its_ends_in_order():
    for _, ranges in profiles.USUAL.values():
        assert set(ranges) <= set(profiles.KEYS)
        assert all(low is None or high is None or low < high for low, high in ranges.values())
