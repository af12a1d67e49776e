"""What a page of the bench fetches the first time, compressed as the server compresses it."""

import hashlib
import re
from pathlib import Path

import brotli
from django.conf import settings
from django.contrib.staticfiles import finders

STATIC = Path(settings.BASE_DIR, "static")
VENDOR = STATIC / "vendor"
FACES = re.compile(r'url\("(\.\./vendor/[^"]+\.woff2)"\)[^;]*; unicode-range: U\+0000')


def squeezed(path):
    """Bytes that travel: fonts are packed already."""
    content = Path(path).read_bytes()
    return len(content) if path.suffix == ".woff2" else len(brotli.compress(content, quality=11))


def fetched_by(page):
    names = re.findall(r'(?:href|src)="/static/([^"]+)"', page)
    latin = [(STATIC / "css" / name).resolve() for name in FACES.findall((STATIC / "css/faces.css").read_text())]
    return {Path(finders.find(name)) for name in names} | set(latin)


def test_a_step_of_the_worksheet_weighs_150_kb_at_most(as_person, ben):
    from_base = as_person(ben).get("/password/")
    step = (settings.BASE_DIR / "templates/worksheets/step.html").read_text(encoding="utf-8")
    own = re.findall(r"{% static '([^']+)' %}", step)
    files = fetched_by(from_base.text) | {Path(finders.find(name)) for name in own}
    weight = {path.name: squeezed(path) for path in files}
    styles = sum(size for name, size in weight.items() if name.endswith(".css"))
    faces = sum(size for name, size in weight.items() if name.endswith(".woff2"))
    assert len([name for name in weight if name.endswith(".woff2")]) == 3
    assert styles <= 40_000, weight
    assert faces <= 75_000, weight
    page_itself = 25_000  # the largest step's HTML, compressed; tests/worksheets_screens measures the real ones
    assert sum(weight.values()) + page_itself <= 150_000, weight


def test_third_party_files_are_the_ones_that_were_vendored():
    listed = dict(
        reversed(line.split("  ./")) for line in (VENDOR / "SHA256SUMS").read_text(encoding="ascii").splitlines()
    )
    found = {
        str(path.relative_to(VENDOR)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in VENDOR.rglob("*")
        if path.is_file() and path.name != "SHA256SUMS"
    }
    assert found == listed


def test_every_third_party_folder_carries_its_licence():
    assert [folder.name for folder in VENDOR.iterdir() if folder.is_dir() and not (folder / "LICENSE").exists()] == []
