"""A scanner for insecure habits goes over all our code; what it reports and we keep has its reason here."""

import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# Where a program is started it is one of our own or the system's, given as a list of words, with no shell in between.
PROGRAMS = "its words are a list of our own, and no shell reads them"
KEPT = {
    ("shop/figures/charts.py", "B703"): "every word in the drawing went through escape",
    ("shop/worksheets/drawings/canvas.py", "B703"): "every word in the drawing went through escape",
    ("shop/figures/notes.py", "B608"): "the name of our own table; nothing that was typed is in it",
    ("shop/handover/writing.py", "B308"): "the template that made it has escaped what people typed",
    ("shop/handover/writing.py", "B703"): "the template that made it has escaped what people typed",
    ("shop/figures/demo/cast.py", "B105"): "the invented workshop's password, printed at its first start",
    ("shop/figures/demo/load.py", "B311"): "draws an invented workshop, guards nothing",
    ("shop/lib/archive.py", "B105"): "the name of a file",
    ("shop/lib/archive.py", "B608"): "table names out of the file's own schema, quoted",
    ("shop/lib/backup.py", "B608"): "names of our own models and their columns, quoted",
    ("shop/lib/carry.py", "B608"): "names of our own models and their columns, quoted; values are parameters",
    ("shop/ground/network.py", "B104"): "asks whether the user chose every address, which is not the default",
    ("shop/ground/postgres.py", "B404"): PROGRAMS,
    ("shop/ground/postgres.py", "B603"): PROGRAMS,
    ("shop/ground/steps.py", "B404"): PROGRAMS,
    ("shop/ground/steps.py", "B603"): PROGRAMS,
    ("shop/ground/system.py", "B404"): PROGRAMS,
    ("shop/ground/system.py", "B603"): PROGRAMS,
    ("shop/ground/system.py", "B607"): "sudo and apt-get are where the system's own search path has them",
    ("shop/ground/test_run.py", "B404"): PROGRAMS,
    ("shop/ground/test_run.py", "B603"): PROGRAMS,
    ("shop/lib/parts.py", "B608"): "the name of our own table; what was typed is a parameter",
    ("shop/lib/parts.py", "B611"): "the name of our own table; what was typed is a parameter",
    ("shop/staff/entry_forms.py", "B105"): "two sentences about a password",
    ("shop/worksheets/models/ranges.py", "B101"): "two tables of ours agree; nothing of a user's is checked by it",
}


def found_in(*places):
    """{(file, rule)} that bandit reports."""
    command = [sys.executable, "-m", "bandit", "-q", "-r", "-f", "json", *places]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    told = json.loads(done.stdout)
    assert told["errors"] == []
    return {(one["filename"].removeprefix("./"), one["test_id"]) for one in told["results"]}


def test_nothing_is_found_but_what_is_kept_for_a_reason():
    found = found_in("shop", "geometry", "manage.py")
    assert found - KEPT.keys() == set(), "mend it, or say above why it may stay"
    assert KEPT.keys() - found == set(), "not found any more: take it off the list"


def test_it_would_find_one(tmp_path):
    Path(tmp_path, "habit.py").write_text("import pickle\npickle.loads(b'')\n")
    assert {rule for _, rule in found_in(str(tmp_path))} == {"B403", "B301"}
