"""A finding is accepted by name, with a reason, for the value that was found."""

import uuid

import pytest

from shop.orders.models import Event
from shop.worksheets import services
from shop.worksheets.evaluation import evaluate
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


@pytest.fixture
def sheet(ben):
    made = build.worksheet(build.at_bench(factories.instrument(), ben), ben)
    build.store(made, ben, {"relief": 0.6})
    return made


def read(sheet, by, raw):
    basis = sheet.readings.latest("pk").pk
    return services.save_reading(
        sheet, client_id=uuid.uuid4(), stage="bench", step="relief", key="relief", string=None, raw=raw, basis=basis,
        by=by,
    )  # fmt: skip


def test_it_is_kept_with_name_value_and_reason(sheet, ada):
    taken = services.accept_finding(sheet, finding_key="relief", reason=" Player's wish. ", by=ada)
    assert (taken.by, taken.value, taken.reason) == (ada, 0.6, "Player's wish.")
    finding = evaluate(sheet).finding("relief")
    assert (finding.accepted, finding.is_open) == (taken, False)
    assert Event.objects.get(what="finding_accepted").text.endswith("Reason: Player's wish.")


def test_a_new_value_voids_it(sheet, ada):
    services.accept_finding(sheet, finding_key="relief", reason="Player's wish.", by=ada)
    read(sheet, ada, "0.7")
    finding = evaluate(sheet).finding("relief")
    assert (finding.accepted, finding.is_open) == (None, True)


def test_the_same_value_again_keeps_it(sheet, ada):
    services.accept_finding(sheet, finding_key="relief", reason="Player's wish.", by=ada)
    read(sheet, ada, "0.6 mm")
    assert evaluate(sheet).finding("relief").accepted is not None


def test_a_missing_reading_can_be_accepted_until_it_is_taken(sheet, ben):
    key = "received.octave:3"
    services.accept_finding(sheet, finding_key=key, reason="Came without that string.", by=ben)
    assert not evaluate(sheet).finding(key).is_open


def test_it_can_be_withdrawn(sheet, ada, ben):
    services.accept_finding(sheet, finding_key="relief", reason="Player's wish.", by=ada)
    services.withdraw_acceptance(sheet, finding_key="relief", by=ben)
    assert evaluate(sheet).finding("relief").is_open
    assert sheet.acceptances.get().withdrawn_by == ben


@pytest.mark.parametrize("reason", ["", "   ", "x" * 501])
def test_it_needs_a_reason_of_believable_length(sheet, ada, reason):
    with pytest.raises(ValueError, match=r"\.$"):
        services.accept_finding(sheet, finding_key="relief", reason=reason, by=ada)
    assert not sheet.acceptances.exists()


def test_what_is_in_range_needs_none(sheet, ada):
    read(sheet, ada, "0.2")
    with pytest.raises(ValueError, match="nothing to accept"):
        services.accept_finding(sheet, finding_key="relief", reason="To be sure.", by=ada)


def test_an_unknown_finding_is_refused(sheet, ada):
    with pytest.raises(services.UnknownPlace):
        services.accept_finding(sheet, finding_key="belfry", reason="Why not.", by=ada)
