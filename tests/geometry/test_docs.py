"""Every public function and class of geometry says what it takes and gives, in units, and its example runs."""

import ast
import doctest
import importlib
import inspect
import re
from dataclasses import is_dataclass
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[2] / "geometry"
TOPICS = sorted(path.stem for path in PACKAGE.glob("*.py") if path.stem not in ("__init__", "apps"))
UNITS = re.compile(
    r"_(mm|rad|deg|hz|n|cents|pa|kg_per_m|kg_per_m3|n_m2|n_m|mm_per_turn|mm_per_cent|cents_per_mm|rad_per_mm|s|n_per_mm)$"
)
# Pure numbers, names and whole objects: everything else that is a parameter carries its unit.
WORDS = """
index
adjusters aim allowed argument batch bend body body_joint_fret chunk core count coverage digits doubt draws effects
end_fret end_fixity errors family facing fret friction from_fret function gap_fret given half harmonic held_fret high
joint_fret kind length low matrix method midi_note moves name names neck normals notes offsets other parts path
per_string perpendicular_fret pluck_share point quantity readings record relief resolution rule seed setting share
standard standard_uncertainties standards strings target targets text thread tolerances tuning turns unit bare_unit
upto upper lower value values weights force epsilon ends partial inharmonicity clamp kappa
clamped_ends elastic free frets fretting placement places position prior reflected saddle_clamp fret_clamp sensitivity
start deviations
"""
UNITLESS = set(WORDS.split())


def public(topic):
    module = importlib.import_module(f"geometry.{topic}")
    return [(f"{topic}.{name}", getattr(module, name)) for name in module.__all__]


EVERYTHING = [pair for topic in TOPICS for pair in public(topic)]
FUNCTIONS = [pair for pair in EVERYTHING if inspect.isfunction(pair[1])]
CLASSES = [pair for pair in EVERYTHING if inspect.isclass(pair[1])]


def ids(pairs):
    return [name for name, _ in pairs]


@pytest.mark.parametrize("topic", TOPICS)
def test_examples_run(topic):
    found = doctest.testmod(importlib.import_module(f"geometry.{topic}"), report=True)
    assert found.failed == 0


@pytest.mark.parametrize("topic", TOPICS)
def test_every_public_name_is_listed(topic):
    tree = ast.parse((PACKAGE / f"{topic}.py").read_text())
    made = {one.name for one in tree.body if isinstance(one, (ast.FunctionDef, ast.ClassDef))}
    listed = set(importlib.import_module(f"geometry.{topic}").__all__)
    assert {name for name in made if not name.startswith("_")} <= listed


@pytest.mark.parametrize(("name", "function"), FUNCTIONS, ids=ids(FUNCTIONS))
def test_function_is_described(name, function):
    text = inspect.getdoc(function)
    for heading in ("Parameters", "Returns", "Examples"):
        assert f"{heading}\n{'-' * len(heading)}" in text, heading
    taken = set(inspect.signature(function).parameters)
    listed = text.split("Parameters\n----------\n")[1].split("\nReturns\n")[0]
    described = {one.strip() for line in re.findall(r"^(\w[\w, ]*) : ", listed, re.M) for one in line.split(",")}
    assert described == taken


# Where a number comes from: a source, a derivation, a formula, or the function whose formula it is.
ORIGIN = re.compile(r"[Ss]ource|[Dd]erived|[Cc]ommon practice|inverse of|``|GUM")
# These work out no number: they check, sort, count, cut into pieces, or read and write text.
NO_NUMBERS = ("errors", "batching", "units")
NO_FORMULA = {"crowns.fret_count", "crowns.over_frets", "prediction.fret_numbers"}


@pytest.mark.parametrize(("name", "function"), FUNCTIONS, ids=ids(FUNCTIONS))
def test_every_number_says_where_it_comes_from(name, function):
    if name.split(".")[0] not in NO_NUMBERS and name not in NO_FORMULA:
        assert ORIGIN.search(inspect.getdoc(function))


@pytest.mark.parametrize(("name", "function"), FUNCTIONS, ids=ids(FUNCTIONS))
def test_every_parameter_carries_its_unit(name, function):
    without = [one for one in inspect.signature(function).parameters if not UNITS.search(one) and one not in UNITLESS]
    assert without == []


@pytest.mark.parametrize(("name", "function"), FUNCTIONS, ids=ids(FUNCTIONS))
def test_options_are_keyword_only(name, function):
    """Whatever has a default is an option, and no function takes what it does not name."""
    for one in inspect.signature(function).parameters.values():
        assert one.kind not in (one.VAR_POSITIONAL, one.VAR_KEYWORD)
        assert one.default is one.empty or one.kind is one.KEYWORD_ONLY or one.name == "standards"


@pytest.mark.parametrize(("name", "kind"), CLASSES, ids=ids(CLASSES))
def test_class_is_described(name, kind):
    text = inspect.getdoc(kind)
    assert text
    if is_dataclass(kind):
        assert kind.__dataclass_params__.frozen
        assert "Attributes\n----------" in text
        for field in kind.__dataclass_fields__.values():
            if "ClassVar" not in str(field.type):
                assert re.search(rf"^[\w, ]*\b{field.name}\b[\w, ]* : ", text, re.M), field.name


def test_nothing_is_said_to_people():
    """Messages name arguments; whole sentences for customers live in shop."""
    assert not [path.name for path in PACKAGE.glob("*.py") if re.search(r"gettext|print\(", path.read_text())]
