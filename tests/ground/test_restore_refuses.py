"""A damaged or foreign archive is refused whole: nothing of it is put in place."""

import json
import sqlite3
import stat
import zipfile
from contextlib import closing

import pytest

from shop.ground import lock
from shop.lib.archive import BackupError
from shop.lib.backup import make_backup
from shop.lib.restore import copy_checked, restore


@pytest.fixture
def kept(workshop, at_folder, tmp_path):
    """A good backup, and an empty data folder to bring it back to."""
    make_backup(tmp_path / "kept.zip")
    at_folder(tmp_path / "new")
    return tmp_path / "kept.zip"


def refused(path, folder, why):
    with pytest.raises(BackupError, match=why) as trouble:
        restore(path)
    assert str(trouble.value).endswith(".")
    assert list(folder.iterdir()) == []


def repacked(path, *, without=(), extra=(), manifest=None, replaced=None):
    """The archive again, with something about it changed."""
    with zipfile.ZipFile(path) as packed:
        entries = {entry.filename: packed.read(entry) for entry in packed.infolist() if entry.filename not in without}
    if manifest:
        noted = json.loads(entries["manifest.json"])
        manifest(noted)
        entries["manifest.json"] = json.dumps(noted).encode()
    entries |= replaced or {}
    with zipfile.ZipFile(path, "w") as packed:
        for name, content in [*entries.items(), *extra]:
            packed.writestr(name, content)
    return path


def test_what_is_no_archive(kept, tmp_path):
    kept.write_bytes(b"not a zip file")
    refused(kept, tmp_path / "new", "is not a backup of a workshop, or it is damaged")


def test_an_archive_of_something_else(kept, tmp_path):
    with zipfile.ZipFile(kept, "w") as packed:
        packed.writestr("holiday.jpg", b"beach")
    refused(kept, tmp_path / "new", "is not a backup of a workshop")


@pytest.mark.parametrize("content", [b"[]", b"{}", b"null", b"\xff", b'{"kind": "workshop backup", "version": 1}'])
def test_a_strange_manifest(kept, tmp_path, content):
    repacked(kept, replaced={"manifest.json": content})
    refused(kept, tmp_path / "new", "is not a backup of a workshop")


@pytest.mark.parametrize("part", [0.2, 0.5, 0.9, 0.999])
def test_one_that_was_cut_short(kept, tmp_path, part):
    content = kept.read_bytes()
    kept.write_bytes(content[: int(len(content) * part)])
    refused(kept, tmp_path / "new", "damaged")


@pytest.mark.parametrize("part", [0.1, 0.3, 0.5, 0.7])
def test_one_whose_bytes_have_turned(kept, tmp_path, part):
    content = bytearray(kept.read_bytes())
    place = int(len(content) * part)
    content[place : place + 8] = bytes(byte ^ 0xFF for byte in content[place : place + 8])
    kept.write_bytes(content)
    refused(kept, tmp_path / "new", "damaged")


@pytest.mark.parametrize("content", [b"another picture", b"\xff\xd8\xff" + bytes(256 * 50)], ids=["size", "bytes"])
def test_a_changed_file_with_a_right_checksum_of_its_own(kept, tmp_path, content):
    repacked(kept, replaced={"files/photos/2026/11/front.jpg": content})
    refused(kept, tmp_path / "new", r"files/photos/2026/11/front\.jpg is not what was kept")


def test_a_missing_file(kept, tmp_path):
    repacked(kept, without=["files/photos/2026/11/front.jpg"])
    refused(kept, tmp_path / "new", "does not hold just the files")


def test_an_extra_file(kept, tmp_path):
    repacked(kept, extra=[("files/extra.jpg", b"x")])
    refused(kept, tmp_path / "new", "does not hold just the files")


@pytest.mark.parametrize(
    "name",
    ["../outside", "/etc/outside", "files/../../outside", "files/..", "files\\..\\outside", "files//outside", "C:/x",
     "running.json", "static/app.js", "files", "shop.sqlite3-wal"],
)  # fmt: skip
def test_a_name_that_leads_elsewhere(kept, tmp_path, name):
    noted = {"size": 1, "sha256": "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881"}
    repacked(kept, extra=[(name, b"x")], manifest=lambda manifest: manifest["entries"].update({name: noted}))
    refused(kept, tmp_path / "new", "it would write to")
    assert not (tmp_path / "outside").exists()


def test_a_link_in_a_files_place(kept, tmp_path):
    link = zipfile.ZipInfo("files/link")
    link.external_attr = (stat.S_IFLNK | 0o777) << 16
    noted = {"size": 11, "sha256": "0"}
    repacked(kept, extra=[(link, "/etc/passwd")], manifest=lambda one: one["entries"].update({"files/link": noted}))
    refused(kept, tmp_path / "new", "it would write to")


def test_more_than_the_manifest_says(kept, tmp_path):
    repacked(kept, manifest=lambda manifest: manifest["entries"]["shop.sqlite3"].update(size=100))
    refused(kept, tmp_path / "new", "shop.sqlite3 is not what was kept")


def test_no_more_is_unpacked_than_the_manifest_says():
    """A few kilobytes of an archive may unfold to whatever they like."""

    class Endless:
        given = 0

        def read(self, size):
            assert size >= 0
            self.given += size
            return bytes(size)

    source, written = Endless(), []
    with pytest.raises(BackupError, match="is not what was kept"):
        copy_checked("x", source, {"size": 10, "sha256": ""}, written.append)
    assert source.given <= 11
    assert sum(map(len, written)) <= 10


def test_a_manifest_grows_with_what_it_lists_and_no_further(kept, tmp_path):
    many = {f"files/{number:064d}.jpg": {"size": 0, "sha256": "0" * 64} for number in range(9000)}
    repacked(kept, manifest=lambda manifest: manifest["entries"].update(many))
    refused(kept, tmp_path / "new", "is not a backup of a workshop")


def test_rows_that_are_not_there(kept, tmp_path):
    repacked(kept, manifest=lambda manifest: manifest["rows"].update(people_customer=7))
    refused(kept, tmp_path / "new", "does not hold the rows that were kept")


def test_one_of_another_form(kept, tmp_path):
    repacked(kept, manifest=lambda manifest: manifest.update(version=2))
    refused(kept, tmp_path / "new", "made by another version")


def test_one_of_a_newer_version(workshop, at_folder, tmp_path):
    with closing(sqlite3.connect(workshop / "shop.sqlite3")) as database:
        database.execute("INSERT INTO django_migrations (app, name, applied) VALUES ('staff', '0099_later', '')")
        database.commit()
    make_backup(tmp_path / "kept.zip")
    at_folder(tmp_path / "new")
    refused(tmp_path / "kept.zip", tmp_path / "new", r"newer version of the program \(staff\.0099_later\)")


@pytest.mark.parametrize("there", ["shop.sqlite3", "shop.sqlite3-wal", "files/a.jpg", "outbox/a.log"])
def test_a_folder_that_holds_something(kept, tmp_path, there):
    path = tmp_path / "new" / there
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(b"mine")
    with pytest.raises(BackupError, match="holds a workshop already"):
        restore(kept)
    assert path.read_bytes() == b"mine"


def test_a_workshop_that_runs(kept, tmp_path):
    (tmp_path / "new").mkdir()
    held = lock.take(tmp_path / "new")
    refused(kept, tmp_path / "new", "is running: stop it first")
    lock.release(held)
