"""Brings a backup back into an empty data folder. Everything is checked before anything is put in its place."""

import hashlib
import json
import re
import shutil
import sqlite3
import tempfile
import zipfile
import zlib
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.db import DEFAULT_DB_ALIAS, DatabaseError, transaction
from django.db.migrations.loader import MigrationLoader

from shop.ground import lock, stamps
from shop.ground.words import Trouble
from shop.lib import archive, second_database
from shop.lib.archive import BackupError
from shop.lib.backup import one_line
from shop.lib.carry import CarryError, carry
from shop.lib.carry import check_is_empty as check_target_is_empty

SAFE_NAME = re.compile(r"(files|outbox)(/[^/\\\0:]+)+")
# What a manifest may say of each file that lies beside it, its name included, and of everything else together. [bytes]
LONGEST_ENTRY, LONGEST_REST = 1500, 1 << 20


def restore(path, report=lambda text: None):
    """Fill the empty data folder from the backup `path`. Returns its manifest; raises BackupError, changing nothing."""
    database = archive.database_path()
    try:
        settings.DATA_DIR.mkdir(mode=0o700, parents=True, exist_ok=True)
        held = lock.take(settings.DATA_DIR)
    except (OSError, Trouble) as error:
        raise BackupError(f"{settings.DATA_DIR} cannot be used: {error}") from error
    if held is None:
        raise BackupError(f"The workshop in {settings.DATA_DIR} is running: stop it first.")
    try:
        check_is_empty(database)
        check_server_is_empty()
        return restore_into_empty(path, database, report)
    except OSError as error:
        raise BackupError(f"The backup could not be brought back: {error.strerror or error}.") from error
    except CarryError as error:
        raise BackupError(str(error)) from error
    except DatabaseError as error:
        raise BackupError(f"The database server refused: {one_line(error)}") from error
    finally:
        lock.release(held)


def check_is_empty(database):
    """Refuse where anything would be overwritten. A stray journal beside the database would spoil a new one."""
    filled = [folder for folder in archive.folders().values() if Path(folder).is_dir() and any(Path(folder).iterdir())]
    if filled or list(database.parent.glob(database.name + "*")):
        raise BackupError(f"{settings.DATA_DIR} holds a workshop already: choose an empty folder by WORKSHOP_DATA.")


def check_server_is_empty():
    """A database server may have its tables, but nobody's rows."""
    if not archive.is_one_file():
        call_command("migrate", verbosity=0)
        check_target_is_empty(DEFAULT_DB_ALIAS)


def restore_into_empty(path, database, report):
    try:
        with zipfile.ZipFile(path) as packed, tempfile.TemporaryDirectory(
            prefix=".restoring-", dir=settings.DATA_DIR
        ) as folder:
            manifest = read_manifest(packed)
            check_names(packed, manifest)
            check_room(manifest)
            for number, (name, noted) in enumerate(manifest["entries"].items(), 1):
                extract(packed, name, noted, Path(folder, name))
                report(f"{number} of {len(manifest['entries'])} files")
            check_database(Path(folder, archive.DATABASE), manifest)
            if archive.is_one_file():
                put_in_place(Path(folder))
                Path(folder, archive.DATABASE).rename(database)
            else:
                fill_server(Path(folder), report)
    except (zipfile.BadZipFile, EOFError, RuntimeError, zlib.error) as error:
        raise BackupError(f"{path} is not a backup of a workshop, or it is damaged.") from error
    return manifest


def verify(path, report=lambda text: None):
    """Read a whole backup and compare every byte with what its manifest says. Raises BackupError."""
    try:
        with zipfile.ZipFile(path) as packed:
            manifest = read_manifest(packed)
            check_names(packed, manifest)
            for number, (name, noted) in enumerate(manifest["entries"].items(), 1):
                with packed.open(name) as source:
                    copy_checked(name, source, noted, lambda chunk: None)
                report(f"checking {number} of {len(manifest['entries'])} files")
    except (OSError, zipfile.BadZipFile, EOFError, RuntimeError, zlib.error) as error:
        raise BackupError(f"{path} is not a backup of a workshop, or it is damaged.") from error
    return manifest


def read_manifest(packed):
    """What the archive says of itself, in the form we need."""
    strange = BackupError(f"{packed.filename} is not a backup of a workshop.")
    try:
        entry = packed.getinfo(archive.MANIFEST)
        if entry.file_size > LONGEST_REST + LONGEST_ENTRY * len(packed.infolist()):
            raise strange
        manifest = json.loads(packed.read(entry))
    except (KeyError, ValueError) as error:
        raise strange from error
    if not isinstance(manifest, dict) or manifest.get("kind") != archive.KIND:
        raise strange
    if manifest.get("version") != archive.VERSION:
        raise BackupError("This backup was made by another version of the program: bring that version up first.")
    if not has_form(manifest):
        raise strange
    return manifest


def has_form(manifest):
    entries, rows, migrations = (manifest.get(name) for name in ("entries", "rows", "migrations"))
    return (
        isinstance(entries, dict)
        and isinstance(rows, dict)
        and isinstance(migrations, list)
        and archive.DATABASE in entries
        and all(is_noted(one) for one in entries.values())
    )


def is_noted(one):
    return isinstance(one, dict) and isinstance(one.get("size"), int) and isinstance(one.get("sha256"), str)


def check_names(packed, manifest):
    """The archive must hold just what its manifest names, all of it inside our folders."""
    names = [entry.filename for entry in packed.infolist()]
    if sorted(names) != sorted([*manifest["entries"], archive.MANIFEST]):
        raise BackupError("The backup is damaged: it does not hold just the files that its manifest names.")
    for entry in packed.infolist():
        if not is_ours(entry.filename) or (entry.external_attr >> 16) & 0o170000 not in (0, 0o100000):
            raise BackupError(f"The backup is not ours: it would write to {entry.filename!r}.")


def is_ours(name):
    if name in (archive.MANIFEST, archive.DATABASE, archive.SECRET_KEY):
        return True
    return bool(SAFE_NAME.fullmatch(name)) and not {".", ".."} & set(name.split("/"))


def check_room(manifest):
    wanted = sum(noted["size"] for noted in manifest["entries"].values())
    free = shutil.disk_usage(settings.DATA_DIR).free
    if wanted > free:
        raise BackupError(f"The disk is full: the backup needs {wanted >> 20} MB, and {free >> 20} MB are free.")


def extract(packed, name, noted, target):
    """Write one entry, and no more of it than the manifest says."""
    target.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    with packed.open(name) as source, target.open("xb") as file:
        copy_checked(name, source, noted, file.write)
    target.chmod(0o600)


def copy_checked(name, source, noted, write):
    digest, left = hashlib.sha256(), noted["size"]
    while chunk := source.read(min(archive.CHUNK, left + 1)):
        left -= len(chunk)
        if left < 0:
            break
        digest.update(chunk)
        write(chunk)
    if left != 0 or digest.hexdigest() != noted["sha256"]:
        raise BackupError(f"The backup is damaged: {name} is not what was kept.")


def check_database(path, manifest):
    try:
        with closing(sqlite3.connect(path)) as database:
            sound = database.execute("PRAGMA quick_check").fetchone()[0] == "ok"
        same = sound and archive.rows_by_table(path) == manifest["rows"]
        seen = archive.migrations_in(path) if same else []
    except sqlite3.Error as error:
        raise BackupError("The backup is damaged: its database cannot be read.") from error
    if not same:
        raise BackupError("The backup is damaged: its database does not hold the rows that were kept.")
    known = {f"{app}.{name}" for app, name in MigrationLoader(None).disk_migrations}
    if newer := [name for name in seen if name not in known]:
        raise BackupError(f"This backup is from a newer version of the program ({newer[0]}): upgrade, then restore it.")


def fill_server(folder, report):
    """Carry the rows to the database server; they are there once the files are, and not before."""
    with second_database.sqlite_file(folder / archive.DATABASE) as kept, transaction.atomic():
        carry(kept, DEFAULT_DB_ALIAS, report=report)
        put_in_place(folder)


def put_in_place(folder):
    """Move what was checked; the database comes last, since it is what makes the folder a workshop."""
    for name, target in archive.folders().items():
        if (folder / name).exists():
            if Path(target).is_dir():
                Path(target).rmdir()
            shutil.move(folder / name, target)  # which may be on another disk
    if (folder / archive.SECRET_KEY).exists():
        (folder / archive.SECRET_KEY).replace(settings.DATA_DIR / archive.SECRET_KEY)
    # Nobody wants a demo in a workshop that was brought back; everything else the next start sees to.
    stamps.write(settings.DATA_DIR / "set-up.json", {"first_start": datetime.now(UTC).isoformat(timespec="seconds")})
