"""Everything the workshop has on file, as one archive of tables and files; and what it has of one person."""

import csv
import io
import json
import tempfile
import zipfile

from django.apps import apps
from django.conf import settings
from django.core.files.storage import default_storage
from django.db.models import FileField

from shop.lib.sheets import BOM, plain_cell

SECRETS = ("secret", "token", "session", "password", "code")  # tables and columns whose names say so stay here
# Of the staff room only what other tables speak of: how people sign in is nobody's to carry away.
OF_STAFF = {
    "workshop": None, "series": None, "person": ("id", "username", "shown_name", "role", "is_active", "date_joined"),
}  # fmt: skip
OURS = ("supplier_code",)
READ_ME = """What lies here was given out by the workshop's own software.

tables/  one table a kind of record, in UTF-8, with a comma between cells. The column "id" is what other tables name.
         A cell that a spreadsheet would run as a formula has an apostrophe before it.
files/   photographs, signatures and papers, under the names that the tables give them.
"""


def everything(report=lambda _text: None):
    """An open temporary file with the whole archive, at its beginning."""
    querysets = [(_name(model), model._default_manager.order_by("pk")) for model in _models()]
    return _archive(querysets, READ_ME, report)


def of_person(customer):
    """The same of one customer: all rows that belong to them, by following the records from theirs."""
    return _archive(rows_of(customer), READ_ME)


def rows_of(customer):
    """[(table, its rows)] of everything that hangs on `customer`, found by the relations themselves."""
    roots = {type(customer): type(customer).objects.filter(pk=customer.pk)}
    found, todo = dict(roots), [type(customer)]
    while todo:
        owner = todo.pop(0)
        for relation in owner._meta.related_objects:
            model = relation.related_model
            if model in found or not _is_ours(model) or relation.many_to_many:
                continue
            found[model] = model._default_manager.filter(**{f"{relation.field.name}__in": found[owner].values("pk")})
            todo.append(model)
    return [(_name(model), rows.order_by("pk")) for model, rows in found.items()]


def _models():
    return [model for model in apps.get_models() if _is_ours(model)]


def _is_ours(model):
    name = model._meta.model_name
    if not model.__module__.startswith("shop.") or any(word in name for word in SECRETS):
        return False
    return model._meta.app_label != "staff" or name in OF_STAFF


def _name(model):
    return f"{model._meta.app_label}-{model._meta.model_name}"


def _fields(model):
    only = OF_STAFF.get(model._meta.model_name) if model._meta.app_label == "staff" else None
    fields = [field for field in model._meta.concrete_fields if only is None or field.name in only]
    return [field for field in fields if not any(word in field.name for word in SECRETS) or field.name in OURS]


def _archive(querysets, read_me, report=lambda _text: None):
    made = tempfile.TemporaryFile(dir=settings.DATA_DIR if settings.DATA_DIR.exists() else None)  # noqa: SIM115 - given on
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("READ-ME.txt", read_me)
        kept = set()
        for name, rows in querysets:
            report(name)
            kept |= _table(archive, name, rows)
        for name in sorted(kept):
            _file(archive, name)
    made.seek(0)
    return made


def _table(archive, name, rows):
    """Write one table, row by row; returns the names of the files it speaks of."""
    fields, files = _fields(rows.model), set()
    heads = [field.attname for field in fields]
    holders = [number for number, field in enumerate(fields) if isinstance(field, FileField)]
    with archive.open(f"tables/{name}.csv", "w") as raw:
        text = io.TextIOWrapper(raw, "utf-8", newline="")
        text.write(BOM)
        writer = csv.writer(text)
        writer.writerow(heads)
        for row in rows.values_list(*heads).iterator(chunk_size=500):
            writer.writerow([_cell(cell) for cell in row])
            files |= {row[number] for number in holders if row[number]}
        text.flush()
        text.detach()
    return files


def _cell(value):
    if isinstance(value, dict | list):
        value = json.dumps(value, ensure_ascii=False, default=str)
    elif hasattr(value, "isoformat"):
        value = value.isoformat()
    return plain_cell(value)


def _file(archive, name):
    """One kept file; a name that would leave the archive's folder is never written."""
    if name.startswith("/") or ".." in name.split("/") or not default_storage.exists(name):
        return
    with default_storage.open(name) as source, archive.open(f"files/{name}", "w") as target:
        for piece in iter(lambda: source.read(1 << 16), b""):
            target.write(piece)
