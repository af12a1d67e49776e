"""One start at a time on one folder."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from shop.ground import lock
from shop.ground.words import Trouble

ROOT = Path(__file__).resolve().parents[2]


def test_a_second_one_is_told_where_the_first_runs(tmp_path):
    first = lock.DataFolderLock(tmp_path)
    first.say_where("http://127.0.0.1:8000")
    with pytest.raises(Trouble, match=r"is already running at http://127\.0\.0\.1:8000 by process \d+; stop that one"):
        lock.DataFolderLock(tmp_path)
    first.release()
    lock.DataFolderLock(tmp_path).release()


def test_a_second_one_is_told_that_the_first_is_being_started(tmp_path):
    first = lock.DataFolderLock(tmp_path)
    with pytest.raises(Trouble, match="is already being started"):
        lock.DataFolderLock(tmp_path)
    first.release()


def test_a_killed_process_leaves_no_lock(tmp_path):
    code = f"from shop.ground import lock; lock.DataFolderLock({str(tmp_path)!r}); import os; os.kill(os.getpid(), 9)"
    assert subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=False).returncode == -9
    assert json.loads((tmp_path / "running.json").read_text())["process"]
    lock.DataFolderLock(tmp_path).release()


def test_waits_where_it_is_told_to(tmp_path, capsys):
    code = (
        f"from shop.ground import lock; lock.take({str(tmp_path)!r}); print('held', flush=True); input()"
    )
    other = subprocess.Popen(
        [sys.executable, "-c", code], cwd=ROOT, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert other.stdout.readline() == "held\n"
    assert lock.take(tmp_path) is None
    other.stdin.close()
    lock.release(lock.take(tmp_path, wait_saying="Waiting."))
    other.wait()
    other.stdout.close()
    assert capsys.readouterr().out in ("Waiting.\n", "")
