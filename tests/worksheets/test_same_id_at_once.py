"""The same reading arriving several times at once, in several processes on a real database file, is saved once."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests import migrated

ROOT = Path(__file__).resolve().parents[2]
PROCESSES = 4

MAKE = """
from tests import factories, worksheet_builders as build
ben = factories.ben()
print(build.worksheet(build.at_bench(factories.instrument(), ben), ben).pk)
"""
SAVE = """
import sys, time
from shop.staff.models import Person
from shop.worksheets import services
from shop.worksheets.models import Worksheet
sheet, ben = Worksheet.objects.get(), Person.objects.get()
print("there", flush=True)
sys.stdin.readline()
for count in range(10):
    saved = services.save_reading(
        sheet, client_id=f"00000000-0000-0000-0000-{count:012d}", stage="bench", step="nut", key="nut_gap",
        string=count % 6 + 1, raw=f"0.{count + 10}", basis=None, by=ben,
    )
    print(saved.status, saved.reading.pk, int(saved.repeated), flush=True)
"""
START = "import django; django.setup()\n"


@pytest.fixture
def environment(tmp_path):
    made = {**os.environ, "WORKSHOP_DATA": str(tmp_path), "DATABASE_URL": "", "DJANGO_SETTINGS_MODULE": "shop.settings"}
    made["PYTHONPATH"] = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
    shutil.copyfile(migrated.file(), tmp_path / "shop.sqlite3")
    run(made, [sys.executable, "-c", START + MAKE])
    return made


def run(environment, command):
    return subprocess.run(command, cwd=ROOT, env=environment, check=True, capture_output=True, text=True).stdout


def test_each_id_is_one_row_and_everybody_gets_the_same_answer(environment):
    writers = [
        subprocess.Popen(
            [sys.executable, "-c", START + SAVE], cwd=ROOT, env=environment, text=True, stdin=subprocess.PIPE,
            stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )
        for _ in range(PROCESSES)
    ]  # fmt: skip
    for writer in writers:
        assert writer.stdout.readline() == "there\n"
    for writer in writers:
        writer.stdin.write("\n")
        writer.stdin.flush()
    answers = []
    for writer in writers:
        said, problem = writer.communicate(timeout=60)
        assert writer.returncode == 0, problem
        answers.append([line.split() for line in said.splitlines()])
    rows = run(environment, [sys.executable, "-c", START + (
        "from shop.worksheets.models import Reading\nprint(Reading.objects.count())"
    )])  # fmt: skip
    assert rows.strip() == "10"
    for same in zip(*answers, strict=True):
        assert len({pk for _, pk, _ in same}) == 1
        assert sorted(int(repeated) for _, _, repeated in same) == [0] + [1] * (PROCESSES - 1)
