"""Who may see, work on and sign a worksheet."""

import pytest
from django.core.exceptions import PermissionDenied
from django.http import Http404

from shop.staff.branching import told_by
from shop.staff.models import Workshop
from shop.worksheets import access, profiles
from shop.worksheets.models import TargetProfile
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


@pytest.fixture
def sheet(ben):
    return build.worksheet(build.at_bench(factories.instrument(), ben), ben)


@pytest.mark.parametrize("fetch", [access.worksheet_to_see, access.worksheet_to_work, access.worksheet_to_sign])
def test_the_bench_may_see_work_and_sign(sheet, ben, fetch):
    assert fetch(ben, sheet.pk) == sheet


def test_the_counter_may_see_but_not_touch(sheet, cleo):
    assert access.worksheet_to_see(cleo, sheet.pk) == sheet
    for fetch in (access.worksheet_to_work, access.worksheet_to_sign):
        with pytest.raises(PermissionDenied):
            fetch(cleo, sheet.pk)


def test_an_unknown_worksheet_is_not_found(ben):
    with pytest.raises(Http404):
        access.worksheet_to_see(ben, 404)


def test_somebody_who_has_left_sees_nothing(sheet, ben):
    ben.is_active = False
    with pytest.raises(PermissionDenied):
        access.worksheet_to_see(ben, sheet.pk)


def test_profiles_are_the_owners(ada, ben):
    profiles.ensure_usual_profiles()
    pk = TargetProfile.objects.first().pk
    assert access.profile_to_edit(ada, pk).pk == pk
    with pytest.raises(PermissionDenied):
        access.profile_to_edit(ben, pk)


def test_a_worksheet_comes_with_its_parties_in_one_query(sheet, ben, django_assert_num_queries):
    with told_by(Workshop.here()), django_assert_num_queries(1):  # as in a request
        found = access.worksheet_to_see(ben, sheet.pk)
        assert found.order.customer.name and str(found.order.instrument) and str(found.started_by)
