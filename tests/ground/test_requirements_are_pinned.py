"""Everything that gets installed is named with its version and its files' checksums, and so is what it needs."""

import re
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests import pins

ROOT = Path(__file__).resolve().parents[2]


def asked_for(path):
    return [Requirement(pin) for _, pin, _ in pins.pins_in(path.read_text(encoding="utf-8"))]


def reached_from(requirements):
    """Every installed package that these need, themselves included, as name → version."""
    reached, todo = {}, [(one.name, frozenset(one.extras)) for one in requirements]
    seen = set()
    while todo:
        name, extras = todo.pop()
        if (canonicalize_name(name), extras) in seen:
            continue
        seen.add((canonicalize_name(name), extras))
        package = metadata.distribution(name)
        reached[canonicalize_name(name)] = package.version
        for needed in map(Requirement, package.requires or []):
            if needed.marker is None or any(needed.marker.evaluate({"extra": extra}) for extra in {*extras, ""}):
                todo.append((needed.name, frozenset(needed.extras)))
    return reached


@pytest.mark.parametrize("names", [("requirements.txt",), ("requirements.txt", "tests/requirements.txt")])
def test_what_is_installed_is_what_is_pinned(names):
    asked = [one for name in names for one in asked_for(ROOT / name)]
    pinned = {canonicalize_name(one.name): str(one.specifier) for one in asked}
    assert reached_from(asked).items() <= {name: version.lstrip("=") for name, version in pinned.items()}.items()
    assert [name for name, version in pinned.items() if not version.startswith("==")] == []


@pytest.mark.parametrize("path", pins.FILES, ids=lambda path: path.parent.name)
def test_every_line_is_a_pin_with_the_checksums_of_its_files(path):
    """`.venv/bin/python -m tests.pins` writes those that are missing."""
    text = path.read_text(encoding="utf-8")
    lines = [line for line in text.replace("\\\n", " ").splitlines() if line and not line.startswith(("#", "-r "))]
    assert len(lines) == len(pins.pins_in(text))
    sums = {pin: found for _, pin, found in pins.pins_in(text)}
    assert [pin for pin, found in sums.items() if not found] == []
    every = [one for found in sums.values() for one in found]
    assert [one for one in every if not re.fullmatch("--hash=sha256:[0-9a-f]{64}", one)] == []


def test_checksums_are_written_beneath_their_pins_and_nothing_else_is_touched():
    text = "# What is asked for.\nnumpy==1.0\n\nWhite.Noise[brotli]==2.0 \\\n    --hash=sha256:old\n-r other.txt\n"
    sums = {"white-noise": ["--hash=sha256:a", "--hash=sha256:b"]}
    new = pins.with_sums(text, sums)
    assert new == text.replace("    --hash=sha256:old", "    --hash=sha256:a \\\n    --hash=sha256:b")
    assert pins.with_sums(new, {}) == new
    assert [(name, len(found)) for name, _, found in pins.pins_in(new)] == [("numpy", 0), ("white-noise", 2)]
