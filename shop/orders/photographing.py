"""Photographs that come with a form: kept one by one, with a sentence for each that cannot be."""

import uuid
from functools import partial

from shop.lib.images import ImageRefused
from shop.orders import services


def keep_with_draft(job, *, by, upload_key=None):
    """Keep the files of a bound JobForm with its draft, also when the rest of the form is not right yet.

    `upload_key` is that of a single file which a page may send again. Returns sentences about those refused.
    """
    files = job.files.getlist(job.add_prefix("photos")) if job.files else []
    return _keep(files, job["draft_key"].value(), by=by, upload_key=upload_key)


def _keep(files, draft_key, *, by, upload_key=None):
    try:
        draft_key = uuid.UUID(str(draft_key))
    except ValueError:
        return ["The photographs could not be kept; choose them again."] if files else []
    return keep_all(files, partial(services.keep_draft_photo, draft_key, by=by), upload_key=upload_key)


def keep_with_form(form, *, by):
    """Keep all photographs that came with a bound BookInForm, whose data can be changed: of each instrument, and of its
    marks, whose rows then carry the keys. Returns sentences about those refused.
    """
    return [
        problem
        for piece in form.pieces
        for problem in (*keep_with_draft(piece.job, by=by), *_keep_of_marks(piece, by=by))
    ]


def _keep_of_marks(piece, *, by):
    problems = []
    for row in piece.marks.forms:
        name = row.add_prefix("file")
        if name not in row.files:
            continue
        key = uuid.uuid4()
        one_more = _keep(row.files.getlist(name)[:1], piece.job["draft_key"].value(), by=by, upload_key=key)
        if not one_more:
            row.data[row.add_prefix("photo")] = str(key)
        problems += one_more
    return problems


def keep_all(files, keep, *, upload_key=None):
    """Call `keep` with each file; one alone goes by its `upload_key`. Returns sentences about those refused."""
    key = upload_key if len(files) == 1 else None
    problems = []
    for file in files:
        try:
            keep(file, upload_key=key)
        except (ImageRefused, services.NotAllowed) as refusal:
            problems.append(f"{file.name[:60]}: {refusal}")
    return problems
