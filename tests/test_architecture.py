"""The house rules that a machine can check."""

import ast
import re
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import call_command

ROOT = Path(__file__).resolve().parent.parent
TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "manage.py", "shop", "geometry", "templates", "static", "tests", "requirements.txt",
}  # fmt: skip

def inside(path):
    """The path within the repository: the folder that it lies in may have any name."""
    return path.relative_to(ROOT)


OWN_CODE = [p for folder in ("shop", "geometry") for p in ROOT.glob(f"{folder}/**/*.py")
            if "migrations" not in inside(p).parts]  # fmt: skip
TESTS = list(ROOT.glob("tests/**/*.py"))
TEMPLATES = list(ROOT.glob("templates/**/*"))


def tracked(*patterns):
    listed = subprocess.run(
        ["git", "ls-files", "-z", *patterns], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout
    return [name for name in listed.split("\0") if name]


def where(path):
    return str(inside(path))


def text_of(path):
    return path.read_text(encoding="utf-8")


def test_visible_top_level_is_exact():
    assert {name.split("/")[0] for name in tracked() if not name.startswith(".")} == TOP_LEVEL


@pytest.mark.parametrize(("files", "most"), [(OWN_CODE, 400), (TESTS, 300)], ids=["code", "tests"])
def test_files_stay_small(files, most):
    long = {where(path): len(text_of(path).splitlines()) for path in files}
    assert not {name: lines for name, lines in long.items() if lines > most}


def functions(path):
    tree = ast.parse(text_of(path))
    return [node for node in ast.walk(tree) if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef))]


def body_lines(function):
    """Lines of code of a function without its docstring."""
    first = function.body[0]
    is_docstring = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)
    start = first.end_lineno if is_docstring else function.lineno
    return function.end_lineno - start


def test_functions_stay_small():
    long = [
        f"{where(path)}:{function.lineno} {function.name} {body_lines(function)}"
        for path in OWN_CODE
        for function in functions(path)
        if body_lines(function) > (25 if path.name == "views.py" or path.parent.name == "views" else 30)
    ]
    assert long == []


def test_lint_is_clean():
    found = subprocess.run(
        [sys.executable, "-m", "ruff", "check", "."], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert found.returncode == 0, found.stdout


def test_imports_run_one_way():
    found = subprocess.run(
        [sys.executable, "-c", "from importlinter.cli import lint_imports_command; lint_imports_command()"],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert found.returncode == 0, found.stdout + found.stderr


def imported(path):
    names = set()
    for node in ast.walk(ast.parse(text_of(path))):
        if isinstance(node, ast.Import):
            names |= {one.name for one in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            names |= {node.module, *(f"{node.module}.{one.name}" for one in node.names)}
    return names


def test_geometry_imports_numpy_and_itself_only():
    allowed = re.compile(
        r"(numpy|geometry|dataclasses|math|enum|re|fractions|functools|itertools|typing|collections|types|__future__)(\.|$)"
    )
    strangers = {
        where(path): [name for name in imported(path) if not allowed.match(name)]
        for path in ROOT.glob("geometry/*.py")
        if path.name != "apps.py"
    }
    assert not {path: names for path, names in strangers.items() if names}


def test_views_hold_no_rules():
    """No arithmetic of money or arrays and no mail is done in a view."""
    views = [p for p in OWN_CODE if p.name == "views.py" or p.parent.name == "views"]
    banned = {"decimal", "numpy", "django.core.mail"}
    assert not [where(path) for path in views if banned & imported(path)]


def test_weasyprint_and_mail_have_one_seam_each():
    pdf = [where(p) for p in OWN_CODE if any(name.split(".")[0] == "weasyprint" for name in imported(p))]
    mail = [where(p) for p in OWN_CODE if "django.core.mail" in imported(p)]
    assert pdf == ["shop/lib/pdf.py"]
    assert mail == ["shop/lib/mail.py"]


@pytest.mark.parametrize(
    ("words", "allowed"),
    [
        (r"@receiver|signals import|post_save|pre_save", ()),
        (r"get_object_or_404", ("access.py",)),
        (r"os\.environ|getenv", ("env.py", "__main__.py", "wsgi.py", "serve.py", "manage.py")),
        (r"csrf_exempt|mark_safe\(f", ()),
    ],
)
def test_words_that_stay_in_their_place(words, allowed):
    found = [
        where(path)
        for path in OWN_CODE
        if re.search(words, text_of(path)) and path.name not in allowed and path.parent.name != "ground"
    ]
    assert found == []


def test_money_is_never_a_float():
    assert not [where(p) for p in ROOT.glob("shop/billing/**/*.py") if re.search(r"\bfloat\(", text_of(p))]


def test_pages_hold_no_inline_style_or_script_and_load_nothing_from_outside():
    pages = [p for p in TEMPLATES if p.suffix == ".html" and not {"emails", "papers"} & set(inside(p).parts)]
    assert pages
    inline = re.compile(r"\sstyle=|\son[a-z]+=\"|<script(?![^>]*\bsrc=)(?![^>]*type=\"application/json\")|<style")
    outside = re.compile(r"(src|href|action)=[\"'](https?:)?//")
    assert not [where(p) for p in pages if inline.search(text_of(p)) or outside.search(text_of(p))]


def test_every_variable_is_listed_for_the_reader():
    read = set(re.findall(r"env\.\w+\(\s*\"(\w+)\"", text_of(ROOT / "shop/settings.py")))
    listed = set(re.findall(r"^(\w+)=", text_of(ROOT / ".env.example"), re.M))
    readme = text_of(ROOT / "README.md")
    assert read <= listed
    assert not [name for name in read if name not in readme]


def test_commit_subjects_are_short():
    subjects = subprocess.run(
        ["git", "log", "--format=%s"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.splitlines()
    assert not [subject for subject in subjects if len(subject) > 60]


@pytest.mark.django_db
def test_migrations_are_whole_and_few():
    call_command("makemigrations", "--check", "--dry-run", verbosity=0)
    for room in (ROOT / "shop").glob("*/migrations"):
        assert len(list(room.glob("0*.py"))) <= 1, room
