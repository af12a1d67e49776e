"""Sheets of every bridge, size and state of work judged in one pass: the same as each alone, and fewer calls."""

import random
from unittest.mock import patch

import numpy as np
import pytest

from geometry.errors import GeometryError
from geometry.tail import tail_path
from shop.worksheets.evaluation import evaluate_all, evaluate_sheet
from shop.worksheets.families import FAMILIES
from shop.worksheets.model import tail as tail_model
from shop.worksheets.together import alone, ask, together
from tests import worksheet_builders as build
from tests.worksheets.test_every_family import filled

RULES = ("full", "iso_14253", "simple")
EXTRA = {"saddle_room_back": (1.0, 6.0), "crest_to_edge": (2.0, 7.0), "nut_gap": (0.0, 0.4), "edge_gap": (0.0, 2.0)}


def sheet_of(family, count, chance):
    """A sheet read in full or in part, well or badly set."""
    rows = [(number, 70 - 5 * number, "plain_steel", 0.4, None) for number in range(count, 0, -1)]
    known = {"family": family, "strings": build.strings(rows), "rule": chance.choice(RULES)}
    known["stringing"] = chance.choice(("through", "wrapped")) if family == "two_post_stop" else "through"
    values = filled(build.sheet(**known))
    for key, ends in EXTRA.items():
        if key in FAMILIES[family].fields_by_key:
            values |= {f"{key}:{number}": chance.uniform(*ends) for number in range(1, count + 1)}
    off = chance.choice((0.02, 0.5, 3.0))
    values = {name: value if value in (0.0, 1.0) else value + chance.gauss(0, off) for name, value in values.items()}
    kept = {name: value for name, value in values.items() if chance.random() < chance.choice((1.0, 0.8))}
    spec = build.spec(family, **({"scale_bass_mm": None} if chance.random() < 0.1 else {}))
    return build.sheet(kept, spec=spec, **known)


def mixed(count, seed):
    chance = random.Random(seed)
    return [sheet_of(family, strings, chance) for _ in range(count) for family in FAMILIES for strings in (4, 6, 7)]


def same(one, other):
    """Words to the letter; numbers to the last few bits, since the order of a sum may be another."""
    told, numbers = [], []
    for found in (one, other):
        told.append([(f.key, f.step, f.verdict, f.headline, f.why, f.move, f.settle) for f in found.findings])
        numbers.append([[f.value, f.uncertainty, f.low, f.high] for f in found.findings])
    return told[0] == told[1] and np.allclose(*(np.array(each, dtype=float).reshape(-1, 4) for each in numbers),
                                              rtol=1e-12, atol=1e-12, equal_nan=True)  # fmt: skip


def test_one_pass_says_of_each_what_it_says_alone():
    many = mixed(3, 1)
    found = evaluate_all(many)
    verdicts = {one.verdict for each in found for one in each.findings}
    assert verdicts >= {"in_range", "out_of_range", "too_close", "missing", "cannot", "stated"}
    assert [same(one, evaluate_sheet(sheet)) for sheet, one in zip(many, found, strict=True)] == [True] * len(many)


def test_geometry_is_asked_once_for_all_alike():
    """Twenty sheets of one bridge, and of another with as many strings: no more calls than one sheet needs."""
    asked = []

    def counted(*args, **kwargs):
        asked.append(args[0].shape)
        return tail_path(*args, **kwargs)

    def counted_by_name(**kwargs):
        return counted(kwargs.pop("crest_mm"), kwargs.pop("exit_mm"), **kwargs)

    with patch.object(tail_model, "tail_path", counted_by_name):
        evaluate_sheet(build.sheet(build.GOOD))
        alone_asked, asked[:] = len(asked), []
        evaluate_all([build.sheet(build.GOOD) for _ in range(20)])
    assert len(asked) == alone_asked
    assert set(asked) == {(20, 6)}


def doubled(value):
    if np.any(value < 0):
        raise GeometryError("value", value, "0 or more")
    return 2.0 * value


def steps(*values):
    answers = []
    for value in values:
        answers.append((yield ask(doubled, np.array([value, value]))))
    return [one.tolist() for one in answers]


def test_one_that_does_not_fit_spoils_no_other():
    found = together([steps(1.0, 2.0), steps(3.0, -1.0), steps(5.0)], refusals=(GeometryError,))
    assert found[0] == ([[2.0, 2.0], [4.0, 4.0]], None)
    assert isinstance(found[1][1], GeometryError)
    assert found[2] == ([[10.0, 10.0]], None)


def test_alone_answers_what_together_does():
    assert alone(steps(1.0, 2.0)) == together([steps(1.0, 2.0)], refusals=())[0][0]
    with pytest.raises(GeometryError):
        alone(steps(-1.0))
