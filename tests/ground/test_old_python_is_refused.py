"""An interpreter that is too old must be able to read what tells it so."""

import ast
from pathlib import Path

import pytest

from shop.ground import oldest

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize("name", ["shop/__init__.py", "shop/__main__.py", "shop/ground/oldest.py", "tests/__main__.py"])
def test_an_old_python_can_read_it(name):
    tree = ast.parse((ROOT / name).read_text(), feature_version=(3, 4))
    too_new = (ast.JoinedStr, ast.NamedExpr, ast.AnnAssign, ast.Match, ast.AsyncFunctionDef)
    assert not [node for node in ast.walk(tree) if isinstance(node, too_new)]


@pytest.mark.parametrize("name", ["shop/__main__.py", "tests/__main__.py"])
def test_nothing_newer_is_imported_before_the_check(name):
    statements = ast.parse((ROOT / name).read_text()).body
    calls = [isinstance(node, ast.Expr) and "refuse_old_python" in ast.dump(node) for node in statements]
    before = [node.module for node in statements[: calls.index(True)] if isinstance(node, ast.ImportFrom)]
    assert before == ["shop.ground.oldest"]


def test_says_which_is_needed(capsys):
    with pytest.raises(SystemExit) as left:
        oldest.refuse_old_python("shop", (3, 10, 12), folders=[])
    assert left.value.code == 1
    assert capsys.readouterr().err == (
        "Python 3.11 or newer is needed, and this is Python 3.10.12; install a newer one and run this again.\n"
    )


def test_names_a_newer_one_that_is_there(tmp_path, capsys):
    (tmp_path / "python3.12").touch(mode=0o755)
    with pytest.raises(SystemExit):
        oldest.refuse_old_python("tests", (3, 9, 2), folders=[str(tmp_path)])
    assert "run it as: python3.12 -m tests" in capsys.readouterr().err


def test_lets_a_new_one_pass():
    assert oldest.refuse_old_python("shop", (3, 11, 0)) is None
