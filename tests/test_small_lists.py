"""The target profiles stay few in most workshops: their list, too, asks no more of the database when it grows."""

import csv
import io

from django.urls import reverse

from shop.instruments.kinds import Kind
from shop.worksheets.models import TargetProfile, TargetRange
from shop.worksheets.profiles import ensure_usual_profiles
from tests.counting import stays_the_same


def profile(number):
    made = TargetProfile.objects.create(name=f"Profile {number}", kind=Kind.BASS)
    TargetRange.objects.create(profile=made, key="relief", low=0.1 * number, high=None)


def test_twice_the_profiles_take_no_more_questions(as_person, ada):
    profile(1)
    stays_the_same(as_person(ada), reverse("profiles"), lambda: [profile(number) for number in range(10, 14)])


def test_the_table_of_profiles_has_a_row_each_with_its_targets(as_person, ada):
    ensure_usual_profiles()
    profile(2)
    answer = as_person(ada).get(reverse("profiles-export"))
    rows = list(csv.DictReader(io.StringIO(b"".join(answer.streaming_content).decode("utf-8-sig"))))
    assert [one["profile"] for one in rows] == [str(one) for one in TargetProfile.objects.all()]
    own = next(one for one in rows if one["profile"] == "Profile 2")
    assert (own["for"], own["usual"], own["relief (mm)"], own["octave (cents)"]) == ("bass guitar", "no", "0.2 …", "")
