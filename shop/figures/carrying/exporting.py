"""Everything the workshop has on file, as one archive of tables and files; and what it has of one person."""

import csv
import io
import json
from functools import partial

from django.apps import apps
from django.core.files.storage import default_storage
from django.db.models import FileField

from shop.lib.sheets import BOM, plain_cell
from shop.lib.streamed import zip_of

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


ROWS_AT_ONCE = 100  # a worksheet may be fifty kilobytes long
PIECE = 1 << 16


def everything():
    """The whole archive, in pieces as it is made: of a large workshop that takes minutes."""
    querysets = [(_name(model), model._default_manager.order_by("pk")) for model in _models()]
    return zip_of(partial(_fill, querysets=querysets))


def of_person(customer):
    """The same of one customer: all rows that belong to them, by following the records from theirs."""
    return zip_of(partial(_fill, querysets=rows_of(customer)))


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


def _fill(archive, querysets):
    """Write all tables, and then the files that they speak of, one after the other."""
    archive.writestr("READ-ME.txt", READ_ME)
    for name, rows in querysets:
        yield from _table(archive, name, rows)
    for _, rows in querysets:
        for field in _fields(rows.model):
            if isinstance(field, FileField):
                yield from _files(archive, rows, field.attname)


def _table(archive, name, rows):
    """Write one table, row by row."""
    heads = [field.attname for field in _fields(rows.model)]
    with archive.open(f"tables/{name}.csv", "w", force_zip64=True) as raw:
        text = io.TextIOWrapper(raw, "utf-8", newline="")
        text.write(BOM)
        writer = csv.writer(text)
        writer.writerow(heads)
        for row in rows.values_list(*heads).iterator(chunk_size=ROWS_AT_ONCE):
            writer.writerow([_cell(cell) for cell in row])
            yield
        text.flush()
        text.detach()


def _files(archive, rows, name):
    """The files that one column of these rows names, each once. The names are asked for anew rather than kept."""
    named = rows.filter(**{f"{name}__gt": ""}).values_list(name, flat=True)
    for file in named.iterator(chunk_size=ROWS_AT_ONCE):
        if f"files/{file}" not in archive.NameToInfo:
            yield from _file(archive, file)


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
        for piece in iter(lambda: source.read(PIECE), b""):
            target.write(piece)
            yield
