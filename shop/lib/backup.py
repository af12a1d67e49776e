"""Makes a backup while the workshop goes on working."""

import hashlib
import json
import os
import sqlite3
import tempfile
import zipfile
from contextlib import closing, suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path

from django.apps import apps
from django.conf import settings
from django.db import DEFAULT_DB_ALIAS, DatabaseError, connection
from django.db.migrations.loader import MigrationLoader
from django.db.models import FileField

from shop.lib import archive, second_database
from shop.lib.archive import BackupError
from shop.lib.carry import CarryError, carry

PAGES_AT_ONCE = 4000
PACKED_ALREADY = {".jpg", ".jpeg", ".png", ".webp", ".pdf", ".zip"}


@dataclass
class Made:
    """What a backup holds."""

    path: Path
    rows: int = 0
    files: int = 0
    missing: list[str] = field(default_factory=list)  # named by the records, but not on the disk


def make_backup(path, report=lambda text: None):
    """Write everything the workshop has to the new file `path`, whole or not at all.

    report: called with a line now and then. Returns what was kept; raises BackupError.
    """
    path = Path(path).expanduser().absolute()
    check_target(path)
    draft = path.with_name(path.name + ".part")
    try:
        with tempfile.TemporaryDirectory(prefix=".backup-", dir=path.parent) as folder:
            copy = Path(folder, archive.DATABASE)
            copy_rows(copy, report)
            made = write_archive(draft, copy, report)
        draft.rename(path)
    except OSError as error:
        raise BackupError(f"The backup could not be written to {path}: {error.strerror or error}.") from error
    except sqlite3.Error as error:
        raise BackupError(f"The database could not be copied: {error}.") from error
    except (CarryError, DatabaseError) as error:
        raise BackupError(f"The database could not be copied: {one_line(error)}") from error
    finally:
        draft.unlink(missing_ok=True)
    made.path = path
    return made


def one_line(error):
    return str(error).strip().split("\n")[0].rstrip(".") + "."


def check_target(path):
    if path.exists():
        raise BackupError(f"{path} is there already: choose a new name, such as one with today's date.")
    if not path.parent.is_dir():
        raise BackupError(f"There is no folder {path.parent}.")
    if path.is_relative_to(settings.DATA_DIR) and not path.is_relative_to(settings.BACKUPS_ROOT):
        raise BackupError(f"A backup inside {settings.DATA_DIR} would be lost with it: choose a place outside.")
    if archive.is_one_file() and not archive.database_path().exists():
        raise BackupError(f"There is no workshop in {settings.DATA_DIR} yet.")


def copy_rows(copy, report):
    """Put every row into the new SQLite file `copy`, as the database is at one moment."""
    if archive.is_one_file():
        copy_database(archive.database_path(), copy, report)
        return
    leaves, models = as_migrated()
    with second_database.sqlite_file(copy, targets=leaves) as other:
        carry(DEFAULT_DB_ALIAS, other, apps=models, report=report)


def as_migrated():
    """The last migrations that the database has seen, and the models as of then: it may wait for an upgrade."""
    loader = MigrationLoader(connection)
    seen = {node for node in loader.applied_migrations if node in loader.graph.nodes}
    leaves = [node for node in seen if not any(child.key in seen for child in loader.graph.node_map[node].children)]
    if all(node in seen for node in loader.graph.leaf_nodes()):
        return leaves, apps
    return leaves, loader.project_state(leaves).apps


def copy_database(source, target, report):
    """Copy a database that others may be writing to, as it is at one moment."""
    with closing(sqlite3.connect(f"file:{source}?mode=ro", uri=True, timeout=20)) as live, \
            closing(sqlite3.connect(target)) as copy:  # fmt: skip
        # Our own open reading keeps the copy at this moment; without it every write would begin it anew.
        live.execute("BEGIN")
        live.execute("SELECT count(*) FROM sqlite_schema").fetchone()
        live.backup(copy, pages=PAGES_AT_ONCE, progress=lambda _, left, of: report(f"database, {of - left}/{of} pages"))
        copy.execute("PRAGMA journal_mode = DELETE")
        if (found := copy.execute("PRAGMA quick_check").fetchone()[0]) != "ok":
            raise BackupError(f"The database is damaged: {found}. Bring back the last good backup.")


def write_archive(draft, copy, report):
    kept = {}
    with os.fdopen(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
        with zipfile.ZipFile(file, "w") as packed:
            kept[archive.DATABASE] = add(packed, archive.DATABASE, copy)
            for name, source in everything_else():
                with suppress(FileNotFoundError):  # removed in the app since we looked
                    kept[name] = add(packed, name, source)
                    report(f"{len(kept)} files")
            manifest = describe(copy, kept)
            packed.writestr(archive.MANIFEST, json.dumps(manifest, indent=1))
        file.flush()
        os.fsync(file.fileno())
    missing = [name for name in files_named_in(copy) if f"files/{name}" not in kept]
    return Made(draft, sum(manifest["rows"].values()), len(kept) - 1, missing)


def everything_else():
    """The kept files as (name in the archive, path). The key goes along: customers' links are signed with it."""
    key = settings.DATA_DIR / archive.SECRET_KEY
    if key.exists():
        yield archive.SECRET_KEY, key
    for name, folder in archive.folders().items():
        for path in sorted(Path(folder).rglob("*")):
            if path.is_file() and not path.is_symlink():
                yield f"{name}/{path.relative_to(folder).as_posix()}", path


def add(packed, name, source):
    """Add one file; returns its size and digest as they were written."""
    digest, size = hashlib.sha256(), 0
    with open(source, "rb") as file:
        entry = zipfile.ZipInfo.from_file(source, name, strict_timestamps=False)
        entry.compress_type = zipfile.ZIP_STORED if Path(name).suffix in PACKED_ALREADY else zipfile.ZIP_DEFLATED
        with packed.open(entry, "w", force_zip64=True) as out:
            while chunk := file.read(archive.CHUNK):
                digest.update(chunk)
                size += len(chunk)
                out.write(chunk)
    return {"size": size, "sha256": digest.hexdigest()}


def describe(copy, kept):
    return {
        "kind": archive.KIND,
        "version": archive.VERSION,
        "made_at": datetime.now(UTC).isoformat(timespec="seconds"),
        "migrations": archive.migrations_in(copy),
        "rows": archive.rows_by_table(copy),
        "entries": kept,
    }


def files_named_in(copy):
    """Every file that a record names, whichever room's."""
    fields = [
        (model._meta.db_table, one.column)
        for model in apps.get_models()
        for one in model._meta.local_fields
        if isinstance(one, FileField)
    ]
    with closing(sqlite3.connect(copy)) as database:
        for table, column in fields:
            names = [one[1] for one in database.execute(f"PRAGMA table_info({archive.quoted(table)})")]
            if column not in names:
                continue  # a workshop that waits for an upgrade
            table, column = archive.quoted(table), archive.quoted(column)
            found = database.execute(f"SELECT {column} FROM {table} WHERE {column} <> ''")  # noqa: S608 (our own names)
            yield from (name for (name,) in found)
