"""Open worksheets judged anew, many in one pass: the same as one by one, stoppable, and taken over only when asked."""

import pytest

from shop.instruments.kinds import BridgeFamily
from shop.worksheets import profiles, rechecking, services, tastes
from shop.worksheets.evaluation import evaluate_all, evaluate_sheet
from shop.worksheets.models import BenchRules, TargetProfile
from shop.worksheets.services.errors import Refused
from tests import factories
from tests import worksheet_builders as build

pytestmark = pytest.mark.django_db


def sheets():
    """Plain sheets of every family, well and badly set, by three rules."""
    for number, family in enumerate(BridgeFamily.values):
        values = {f"height_12:{string}": 1.45 + 0.07 * string + 0.05 * number for string in range(1, 7)}
        values |= {"relief": 0.29 - 0.02 * number, "crest_height_bass": 15.0, "crest_height_treble": 15.0}
        values |= {"octave:6": 1.4, "octave:1": -4.0}
        if family == "two_post_stop":
            values |= {"stud_bass": 4.0, "stud_treble": 5.02}
        rule = ("full", "iso_14253", "simple")[number % 3]
        yield build.sheet(known(family, values), family=family, spec=build.spec(family), rule=rule)


def known(family, values):
    keys = build.family_for(family).fields_by_key
    return {name: value for name, value in values.items()
            if name.split(":")[0] in keys and keys[name.split(":")[0]].stage != "received"}  # fmt: skip


def test_one_pass_over_many_says_what_each_alone_says():
    many = [*sheets(), *sheets()]
    together = evaluate_all(many)
    assert sum(len(one.findings) for one in together) > 100
    for sheet, found in zip(many, together, strict=True):
        assert found.findings == evaluate_sheet(sheet).findings


@pytest.fixture
def three(ben):
    """Three open worksheets; their relief of 0.28 mm lies within the feeler's 0.029 mm of its limit of 0.30 mm."""
    profiles.ensure_usual_profiles()
    made = []
    for _ in range(3):
        order = build.at_bench(factories.instrument(factories.customer()), ben)
        made.append(services.start_worksheet(order, by=ben))
        build.store(made[-1], ben, {"relief": 0.28})
    return made


def turned(recheck):
    return {(one["key"], one["before"], one["after"]) for one in recheck.changes}


def test_another_rule_turns_what_was_too_close(three, ada):
    rechecking.save_rule(BenchRules(rule="simple"))
    done = rechecking.go_on(rechecking.begin(by=ada))
    assert (done.state, done.done) == ("finished", 3)
    assert turned(done) == {("relief", "too_close", "in_range")}
    assert {one["sheet"] for one in done.changes} == {one.pk for one in three}


def test_looking_changes_no_sheet_and_taking_over_does(three, ada):
    TargetProfile.objects.get(kind="electric").ranges.filter(key="relief").update(high=0.2)
    done = rechecking.go_on(rechecking.begin(by=ada))
    assert turned(done) == {("relief", "too_close", "out_of_range")}
    three[0].refresh_from_db()
    assert three[0].targets["relief"] == [0.1, 0.3]
    assert rechecking.take_over(done, by=ada) == 3
    three[0].refresh_from_db()
    assert three[0].targets["relief"] == [0.1, 0.2]
    assert three[0].order.events.filter(what="targets_renewed").exists()


def test_it_is_stopped_and_goes_on_where_it_was(three, ada):
    rechecking.save_rule(BenchRules(rule="simple"))
    held = rechecking.go_on(rechecking.begin(by=ada), at_once=1)
    rechecking.stop(held)
    held.refresh_from_db()
    assert (held.state, held.done, len(held.changes)) == ("stopped", 1, 1)
    with pytest.raises(Refused):
        rechecking.take_over(held, by=ada)
    assert len(rechecking.go_on(held).changes) == 3


def test_a_players_liking_is_part_of_today(three, ada):
    tastes.save({"relief": [0.2, 0.4]}, by=ada, kind="electric", instrument=three[0].order.instrument)
    done = rechecking.go_on(rechecking.begin(by=ada))
    assert [one["sheet"] for one in done.changes] == [three[0].pk]


def test_a_sheet_signed_meanwhile_and_one_without_its_profile_keep_what_they_have(three, ada):
    TargetProfile.objects.filter(kind="electric").update(name="Electric, other")
    done = rechecking.go_on(rechecking.begin(by=ada))
    assert done.changes == []
    assert rechecking.take_over(done, by=ada) == 0


def test_no_more_queries_for_more_sheets(three, ben, ada, django_assert_max_num_queries):
    with django_assert_max_num_queries(20) as few:
        rechecking.changes_of([three[0].pk], rule="simple")
    with django_assert_max_num_queries(len(few)):
        rechecking.changes_of([one.pk for one in three], rule="simple")


def test_the_owners_page_runs_to_the_end_and_reports(as_person, ada, three):
    client = as_person(ada)
    assert "Nothing has been re-checked yet" in client.get("/office/recheck/").content.decode()
    client.post("/office/recheck/rule/", {"rule": "simple"})
    client.post("/office/recheck/begin/")
    page = client.get("/office/recheck/").content.decode()
    assert "0 of 3 worksheets" in page
    pk = rechecking.Recheck.objects.get().pk
    page = client.post(f"/office/recheck/{pk}/go-on/", follow=True).content.decode()
    assert "3 of 3 worksheets judged anew, finished" in page
    assert "Was too close to call, is <strong>in range</strong>" in page
    client.post(f"/office/recheck/{pk}/take/")
    three[0].refresh_from_db()
    assert three[0].rule == "simple"


def test_no_such_rule_is_422(as_person, ada, three):
    answer = as_person(ada).post("/office/recheck/rule/", {"rule": "kind"})
    assert answer.status_code == 422
    assert "Choose one of the rules." in answer.content.decode()
