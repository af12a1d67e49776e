"""Everything that gets installed is named with its version, what packages need in turn as well."""

from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[2]


def asked_for(path):
    lines = [line.split("#")[0].strip() for line in path.read_text().splitlines()]
    return [Requirement(line) for line in lines if line and not line.startswith("-")]


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
