"""Families as data: every name that a family uses is a name that exists."""

import pytest

from shop.instruments.kinds import BridgeFamily
from shop.worksheets import profiles
from shop.worksheets.checks import KNOWN_CHECKS
from shop.worksheets.families import FAMILIES, family_for
from shop.worksheets.families.parts import BENCH, LEFT, NUMBERS, RECEIVED
from shop.worksheets.gauges import GAUGES

EVERY = pytest.mark.parametrize("family", FAMILIES.values(), ids=list(FAMILIES))
DRAWINGS = {"bridge_side", "stud_window", "neck", "arch", "saddles", "octave", "compare", "buzz", "cents"}


def fields(family):
    return [(step, field) for step in family.steps for field in step.fields]


def test_two_post_steps_stand_in_the_order_of_the_trade():
    """Common practice, no source: bridge height before tailpiece, intonation after both, as left last."""
    assert [step.key for step in family_for("two_post_stop").steps] == [
        "inspect", "strings", "relief", "nut", "height", "arch", "tail", "saddles", "intonation", "electrics", "play",
        "left",
    ]  # fmt: skip


def test_an_unknown_family_is_none():
    assert family_for("harp") is None


@EVERY
def test_family_is_one_that_instruments_may_have(family):
    assert family.key in BridgeFamily.values


@EVERY
def test_step_says_what_to_do_in_whole_sentences(family):
    for step in family.steps:
        assert step.do.endswith("."), step.key
        assert all(one.endswith(".") for one in step.cautions), step.key
        assert step.title[0].isupper()


@EVERY
def test_a_place_is_named_once(family):
    places = [(field.stage, step.key, field.key) for step, field in fields(family)]
    assert len(places) == len(set(places))


@EVERY
def test_only_the_first_step_reads_as_received_and_only_the_last_as_left(family):
    for step, field in fields(family):
        expected = {"inspect": RECEIVED, "left": LEFT}.get(step.key, BENCH)
        assert field.stage == expected, (step.key, field.key)


@EVERY
def test_gauges_exist_and_read_the_fields_unit(family):
    for _, field in fields(family):
        assert field.gauges or field.unit not in NUMBERS, field.key
        assert all(GAUGES[key].unit == field.unit for key in field.gauges), field.key


@EVERY
def test_targets_exist(family):
    known = {*profiles.KEYS, "height_12"}
    assert {field.target_key for _, field in fields(family)} - {""} <= known


@EVERY
def test_a_step_rests_on_readings_of_other_steps(family):
    keys = {field.key for _, field in fields(family)} | {"stringing"}
    for step in family.steps:
        assert set(step.rests_on) <= keys, step.key


@EVERY
def test_checks_and_drawings_exist(family):
    for step in family.steps:
        assert set(step.checks) <= KNOWN_CHECKS | {field.key for _, field in fields(family) if field.unit == "yes_no"}
        assert set(step.drawings) <= DRAWINGS, step.key


@EVERY
def test_choices_have_codes_and_labels(family):
    for _, field in fields(family):
        assert bool(field.choices) == (field.unit == "choice")
        assert len({code for code, _ in field.choices}) == len(field.choices)
