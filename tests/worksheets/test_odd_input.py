"""An evaluation never raises: what cannot be worked out says so in a sentence."""

import json
import math
import random

import pytest

from shop.instruments.specification import FIELDS
from shop.worksheets.evaluation import evaluate_sheet
from shop.worksheets.findings import VERDICTS
from shop.worksheets.models import Worksheet
from shop.worksheets.sheet import Sheet
from tests import worksheet_builders as build


def whole(evaluation):
    """Every sentence is one, every number goes into JSON."""
    for one in evaluation.findings:
        assert one.verdict in VERDICTS
        assert one.headline[0].isupper() or one.headline[0].isdigit()
        for text in (one.headline, one.why, one.move, one.settle):
            assert text == "" or text.endswith("."), text
            assert "nan" not in text and "None" not in text, text
    json.dumps(evaluation.numbers, allow_nan=False)
    assert all(reason.endswith(".") for reason in evaluation.numbers["why_not"].values())
    return evaluation


def test_an_empty_sheet():
    evaluation = whole(evaluate_sheet(build.sheet()))
    assert evaluation.numbers["side"] is None
    assert evaluation.numbers["why_not"]["side"] == "No height at fret 12 has been read."


def test_no_specification_at_all():
    evaluation = whole(evaluate_sheet(build.sheet(build.GOOD, spec={})))
    assert "scale, bass side" in evaluation.numbers["why_not"]["neck"]


@pytest.mark.parametrize("missing", [one.key for one in FIELDS])
def test_any_single_value_of_the_specification_missing(missing):
    whole(evaluate_sheet(build.sheet(build.GOOD, spec=build.spec(**{missing: None}))))


@pytest.mark.parametrize("missing", list(build.GOOD))
def test_any_single_reading_missing(missing):
    whole(evaluate_sheet(build.sheet({name: value for name, value in build.GOOD.items() if name != missing})))


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 0.0, -1.0, 1e9])
@pytest.mark.parametrize("name", ["relief", "height_12:6", "crest_height_bass", "stud_bass", "octave:3"])
def test_values_that_no_gauge_shows(name, value):
    whole(evaluate_sheet(build.sheet(build.GOOD | {name: value})))


@pytest.mark.parametrize("key", [one.key for one in FIELDS])
@pytest.mark.parametrize("value", [0.0, -5.0, 1e9, math.nan])
def test_a_specification_that_cannot_be(key, value):
    whole(evaluate_sheet(build.sheet(build.GOOD, spec=build.spec(**{key: value}))))


@pytest.mark.parametrize("count", range(4, 13))
@pytest.mark.parametrize("stringing", ["through", "wrapped"])
def test_four_to_twelve_strings(count, stringing):
    rows = [(number, 70 - 5 * number, "plain_steel", 0.4, None) for number in range(count, 0, -1)]
    values = {"relief": 0.2, "crest_height_bass": 15, "crest_height_treble": 14, "stud_bass": 4, "stud_treble": 4}
    values |= {f"{key}:{number}": 0.3 if key != "height_12" else 1.6 for number in range(1, count + 1)
               for key in ("height_12", "octave", "nut_gap", "saddle_room_back")}  # fmt: skip
    evaluation = whole(evaluate_sheet(build.sheet(values, strings=build.strings(rows), stringing=stringing)))
    assert len(evaluation.numbers["side"]["break_deg"]) == count
    assert evaluation.finding(f"break_angle:{count}") is not None


def test_a_bass_with_four_strings_and_fanned_frets():
    spec = build.spec(kind="bass", scale_bass_mm=889.0, scale_treble_mm=838.0)
    sheet = build.sheet({"height_12:4": 2.4, "height_12:1": 1.95}, spec=spec, strings=build.strings(build.BASS_FOUR))
    numbers = whole(evaluate_sheet(sheet)).numbers
    assert numbers["neck"]["crest"]["4"][0] == 889.0
    assert numbers["neck"]["crest"]["1"][0] == 838.0


@pytest.mark.parametrize("string", [{"midi": None}, {"diameter_mm": None}, {"core_mm": 5.0}, {"material": "gut"}])
def test_strings_that_are_not_known(string):
    strings = build.strings()
    strings[0] |= string
    whole(evaluate_sheet(build.sheet(build.GOOD, strings=strings)))


def test_no_strings_and_an_unknown_family():
    assert evaluate_sheet(build.sheet(strings=[])).findings == ()
    assert evaluate_sheet(Sheet.of(Worksheet(**build.snapshot() | {"family": "harp"}))).findings == ()


def test_a_thread_that_nobody_knows():
    whole(evaluate_sheet(build.sheet(build.GOOD | {"height_12:6": 3.0}, threads={"post": "Whitworth"})))


@pytest.mark.parametrize("targets", [{}, {"relief": None}, {"relief": [None, None]}, {"break_angle": [17.0, 6.0]}])
def test_targets_that_are_missing_or_crossed(targets):
    whole(evaluate_sheet(build.sheet(build.GOOD, targets=targets)))


@pytest.mark.parametrize("seed", range(40))
def test_readings_at_random(seed):
    dice = random.Random(seed)
    values = {name: dice.uniform(-3, 30) for name in build.GOOD if dice.random() < 0.8}
    values |= {f"saddle_room_back:{n}": dice.uniform(0, 12) for n in range(1, 7) if dice.random() < 0.7}
    values |= {f"saddle_facing:{n}": dice.choice([0.0, 1.0, 7.0]) for n in range(1, 7) if dice.random() < 0.7}
    values |= {f"edge_gap:{n}": dice.uniform(0, 3) for n in range(1, 7) if dice.random() < 0.4}
    names = list(values)
    dice.shuffle(names)
    changed = build.spec(**{one.key: dice.uniform(one.low, one.high) for one in FIELDS if dice.random() < 0.3})
    stringing = dice.choice(["through", "wrapped"])
    whole(evaluate_sheet(build.sheet({name: values[name] for name in names}, spec=changed, stringing=stringing)))
