"""What edited targets would have judged in the last hundred sheets, from the values that those kept."""

import time

import pytest
from django.utils import timezone

from shop.worksheets import profiles, services
from shop.worksheets.evaluation import evaluate
from shop.worksheets.foretold import foretell
from shop.worksheets.models import Worksheet
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db
NOW = {key: list(pair) for key, pair in profiles.ELECTRIC.items()}
CHANGED = NOW | {"relief": [0.25, 0.45], "height_12_bass": [1.2, 1.6], "octave": [-0.25, None], "nut_gap": [None, None]}


@pytest.fixture
def signed(ben):
    made = build.finished(build.at_bench(factories.instrument(), ben), ben)
    services.sign_off(made, by=ben)
    made.refresh_from_db()
    return made


def test_it_says_what_the_checks_would_say_with_those_targets(signed):
    """Every verdict, one by one, against a whole evaluation of the same readings with the new targets."""
    found = foretell("electric", NOW, CHANGED)
    signed.targets = CHANGED
    after = evaluate(signed)
    signed.targets = NOW
    before = evaluate(signed)
    turned = {(one.check, one.string): (one.before, one.after) for one in found.changes}
    known = {}
    for one in before.findings:
        if one.check in found.counts:
            other = after.finding(one.key).verdict
            words = tuple("" if word == "stated" else word for word in (one.verdict, other))
            if words[0] != words[1]:
                known[one.check, one.string] = words
    assert turned == known
    assert len(turned) > 6


def test_counts_add_up_to_all_values(signed):
    found = foretell("electric", NOW, CHANGED)
    assert found.sheets == 1
    for place in (0, 1):
        assert sum(sum(pair[place].values()) for pair in found.counts.values()) == found.values


def test_the_same_targets_turn_nothing(signed):
    assert foretell("electric", NOW, NOW).changes == ()


def test_another_kind_and_an_empty_shop_have_nothing_to_try(signed):
    assert foretell("bass", NOW, CHANGED).values == 0


def test_a_hundred_sheets_take_one_query_and_a_moment(signed, ben, django_assert_num_queries):
    rows = [Worksheet(order=signed.order, started_at=signed.started_at, started_by=ben, signed_at=timezone.now(),
                      signed_by=ben, outcome=signed.outcome, **build.snapshot()) for _ in range(120)]  # fmt: skip
    Worksheet.objects.bulk_create(rows)
    with django_assert_num_queries(1):
        began = time.process_time()  # others may be at work beside it
        found = foretell("electric", NOW, CHANGED)
    assert found.sheets == 100
    assert time.process_time() - began < 1.0
