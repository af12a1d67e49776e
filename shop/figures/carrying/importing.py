"""Reading records in: every row is checked first; then all of them are written, or none."""

import uuid
from dataclasses import dataclass, field

from django.core.exceptions import ValidationError
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import transaction
from django.db.models import prefetch_related_objects
from django.utils import timezone

from shop.figures.carrying.kinds import KINDS, OnFile, RowProblem
from shop.figures.carrying.reading import FileRefused, cards_of, sheet_of
from shop.instruments.models import Instrument
from shop.lib.folding import folded
from shop.staff import audit
from shop.staff.branching import whose
from shop.stock.models import Movement, MovementKind

AT_ONCE = 500
SHOWN = 15
MOST_PROBLEMS = 50
MOST_LINES = 12  # that are named with one problem


@dataclass
class Checked:
    """A file that was looked through. Nothing is written while there is any problem."""

    readable: object
    made: list = field(default_factory=list)
    left_out: list = field(default_factory=list)  # lines that are on file already
    problems: list = field(default_factory=list)  # (line, column, sentence)
    unused: list = field(default_factory=list)
    preview: list = field(default_factory=list)
    heads: list = field(default_factory=list)
    guessed: bool = False

    @property
    def may_be_written(self):
        return bool(self.made) and not self.problems

    @property
    def problems_together(self):
        """[(lines in words, column, sentence)]: what is wrong in the same way is said once."""
        lines = {}
        for line, column, says in self.problems:
            lines.setdefault((column, says), []).append(line)
        return [(_lines(found), column, says) for (column, says), found in lines.items()]

    @property
    def shown_problems(self):
        return self.problems_together[:MOST_PROBLEMS]

    @property
    def more_problems(self):
        return len(self.problems_together) - len(self.shown_problems)


def _lines(found):
    """`Line 4`, or `Lines 4, 7, 9 and 31 more`."""
    if len(found) == 1:
        return f"Line {found[0]}"
    more = len(found) - MOST_LINES
    return f"Lines {', '.join(map(str, found[:MOST_LINES]))}{f' and {more} more' if more > 0 else ''}"


def check(kind, data, *, workshop, report=lambda done, of: None):
    """The Checked of an uploaded file's bytes; raises FileRefused for what is no table of that kind.

    report(done, of) is called now and then, and may end it by raising; so it is by `write`.
    """
    readable = KINDS[kind]
    is_cards = kind == "customers" and data.lstrip(b"\xef\xbb\xbf \r\n")[:11].upper() == b"BEGIN:VCARD"
    sheet = cards_of(data) if is_cards else sheet_of(data)
    names = {folded(head): head for head in readable.heads}
    known_heads = {head: names[folded(head)] for head in sheet.heads if folded(head) in names}
    missing = [head for head in readable.needed if head not in known_heads.values()]
    if missing:
        raise FileRefused(f"The head line has no column “{missing[0]}”. It may have: {', '.join(readable.heads)}.")
    checked = Checked(readable, guessed=sheet.guessed, heads=list(known_heads.values()))
    checked.unused = [head for head in sheet.heads if head and head not in known_heads]
    known = readable.know(workshop)
    for count, (line, cells) in enumerate(sheet.rows):
        if count % AT_ONCE == 0:
            report(count, len(sheet.rows))
        row = {known_heads[head]: cell for head, cell in cells.items() if head in known_heads}
        if len(checked.preview) < SHOWN:
            checked.preview.append((line, [row.get(head, "") for head in checked.heads]))
        _check_row(checked, row, line, known)
    return checked


def _check_row(checked, row, line, known):
    try:
        made = checked.readable.make(row, line, known)
        made.clean_fields(exclude=["customer", "supplier"])
        made.clean()
        checked.made.append(made)
    except OnFile:
        checked.left_out.append(line)
    except RowProblem as problem:
        checked.problems.append((line, *problem.args))
    except ValidationError as problem:
        for name, messages in problem.message_dict.items():
            label = checked.readable.model._meta.get_field(name).verbose_name if name != "__all__" else ""
            checked.problems.append((line, label, " ".join(messages)))


@transaction.atomic
def write(checked, *, by, branch=None, report=lambda done, of: None):
    """Write all records of a Checked without problems. Returns how many. What lies there, lies at `branch`."""
    model = checked.readable.model
    if model is Instrument:
        prefetch_related_objects(checked.made, "customer")  # whose it is, it is found by
    for one in checked.made:
        if hasattr(one, "remember_keys"):
            one.remember_keys()
        if hasattr(one, "created_by"):
            one.created_by = by
    for begin in range(0, len(checked.made), AT_ONCE):
        report(begin, len(checked.made))
        model.objects.bulk_create(checked.made[begin : begin + AT_ONCE])
    _first_counts(checked.made, by, branch)
    audit.write(audit.AuditKind.IMPORT, f"Read in: {checked.readable.title.lower()}, {len(checked.made)}.", by=by)
    return len(checked.made)


def _first_counts(made, by, branch):
    found = [(one, one.opening) for one in made if getattr(one, "opening", None) is not None and one.is_on_shelf]
    where = whose(branch) if found else None
    Movement.objects.bulk_create(
        [
            Movement(item=item, branch=where, kind=MovementKind.COUNTED, quantity=count, after=count, counted=count,
                     cost=item.cost, key=uuid.uuid4(), at=timezone.now(), by=by, note="read in")
            for item, count in found
        ],
        batch_size=AT_ONCE,
    )  # fmt: skip


def keep(data):
    """Keep a file between its preview and the answer; returns the name to ask for it by."""
    name = f"imports/{uuid.uuid4()}.csv"
    default_storage.save(name, ContentFile(data))
    return name


def kept(name):
    """The bytes of a kept file, or None when it is gone."""
    if not name or not default_storage.exists(name):
        return None
    with default_storage.open(name) as file:
        return file.read()


def forget(name):
    if name:
        default_storage.delete(name)
