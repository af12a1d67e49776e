"""What was backed up comes back, row by row and file by file."""

import sqlite3
import stat
import zipfile
from contextlib import closing

import pytest

from shop.lib import archive
from shop.lib.archive import BackupError
from shop.lib.backup import make_backup
from shop.lib.restore import restore


def everything_in(folder):
    """Each table's rows and each kept file's bytes."""
    with closing(sqlite3.connect(folder / "shop.sqlite3")) as database:
        tables = [name for (name,) in database.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")]
        rows = {name: database.execute(f"SELECT * FROM {archive.quoted(name)}").fetchall() for name in tables}
    kept = [path for name in ("files", "outbox") for path in sorted((folder / name).rglob("*")) if path.is_file()]
    return rows, {str(path.relative_to(folder)): path.read_bytes() for path in [*kept, folder / "secret-key"]}


def test_all_comes_back(workshop, at_folder, tmp_path):
    before = everything_in(workshop)
    made = make_backup(tmp_path / "kept.zip")
    at_folder(tmp_path / "new")
    restore(tmp_path / "kept.zip")
    assert everything_in(tmp_path / "new") == before
    assert made.rows == sum(len(rows) for name, rows in before[0].items() if not name.startswith("sqlite_"))
    assert made.files == len(before[1])
    assert made.rows > 100
    assert made.missing == []


def test_what_came_back_is_for_its_owner_alone(workshop, at_folder, tmp_path):
    make_backup(tmp_path / "kept.zip")
    at_folder(tmp_path / "new")
    restore(tmp_path / "kept.zip")
    open_to_others = stat.S_IRWXG | stat.S_IRWXO
    files = [path for path in (tmp_path / "new").rglob("*") if path.is_file() and path.name != "set-up.json"]
    assert not [path for path in [tmp_path / "kept.zip", *files] if path.stat().st_mode & open_to_others]


def test_a_backup_made_while_work_goes_on_is_of_one_moment(workshop, at_folder, tmp_path, monkeypatch):
    """Somebody writes between any two pages that are copied, a second row always with the first."""
    monkeypatch.setattr("shop.lib.backup.PAGES_AT_ONCE", 10)
    written = 0
    with closing(sqlite3.connect(workshop / "shop.sqlite3", isolation_level=None)) as other:
        other.execute("CREATE TABLE pairs (number INTEGER, filling TEXT)")

        def write(_progress):
            nonlocal written
            for _ in range(2 if written < 200 else 0):
                other.execute("BEGIN IMMEDIATE")
                other.executemany("INSERT INTO pairs VALUES (?, ?)", [(written, "x" * 3000)] * 2)
                other.execute("COMMIT")
                written += 1

        write(None)
        make_backup(tmp_path / "kept.zip", report=write)
    at_folder(tmp_path / "new")
    restore(tmp_path / "kept.zip")
    with closing(sqlite3.connect(tmp_path / "new" / "shop.sqlite3")) as database:
        counts = database.execute("SELECT count(*) FROM pairs GROUP BY number").fetchall()
    assert written > 10
    assert 0 < len(counts) < written
    assert set(counts) == {(2,)}


def test_a_file_that_a_record_names_and_nobody_has_is_told(workshop, tmp_path):
    with closing(sqlite3.connect(workshop / "shop.sqlite3")) as database:
        database.execute("PRAGMA foreign_keys = OFF")
        database.execute(
            "INSERT INTO handover_paper (kind, name, file, sha256, made_at, about, order_id)"
            " VALUES ('invoice', 'I-1.pdf', 'papers/gone.pdf', '', '2026-01-01', '', 1)"
        )
        database.commit()
    assert make_backup(tmp_path / "kept.zip").missing == ["papers/gone.pdf"]


def test_photographs_and_papers_are_not_packed_twice(workshop, tmp_path):
    make_backup(tmp_path / "kept.zip")
    with zipfile.ZipFile(tmp_path / "kept.zip") as packed:
        assert packed.getinfo("files/photos/2026/11/front.jpg").compress_type == zipfile.ZIP_STORED
        assert packed.getinfo("shop.sqlite3").compress_type == zipfile.ZIP_DEFLATED


def test_nothing_is_written_over(workshop, tmp_path):
    (tmp_path / "kept.zip").write_bytes(b"last week's")
    with pytest.raises(BackupError, match="is there already"):
        make_backup(tmp_path / "kept.zip")
    assert (tmp_path / "kept.zip").read_bytes() == b"last week's"


@pytest.mark.parametrize(
    ("where", "why"),
    [("missing/kept.zip", "There is no folder"), ("data/kept.zip", "would be lost with it")],
)
def test_a_bad_place_is_refused(workshop, tmp_path, where, why):
    with pytest.raises(BackupError, match=why):
        make_backup(tmp_path / where)


def test_a_failed_backup_leaves_nothing(workshop, tmp_path, monkeypatch):
    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("shop.lib.backup.add", full)
    before = sorted(path.name for path in tmp_path.iterdir())
    with pytest.raises(BackupError, match="No space left on device"):
        make_backup(tmp_path / "kept.zip")
    assert sorted(path.name for path in tmp_path.iterdir()) == before


def test_a_damaged_database_is_not_called_a_backup(workshop, tmp_path):
    path = workshop / "shop.sqlite3"
    content = bytearray(path.read_bytes())
    content[8192:60000] = b"\xff" * (60000 - 8192)
    path.write_bytes(content)
    with pytest.raises(BackupError, match="database"):
        make_backup(tmp_path / "kept.zip")
