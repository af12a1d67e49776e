"""What went wrong is said in one sentence."""

import errno

import pytest

from shop.ground.words import cause_of, last_line, sentence_for


@pytest.mark.parametrize(
    ("output", "cause"),
    [
        ("WARNING: Retrying … NewConnectionError('…')\nERROR: No matching distribution", "there is no network"),
        ("Temporary failure in name resolution\nE: Unable to fetch some archives", "there is no network"),
        ("OSError: [Errno 28] No space left on device", "the disk is full"),
        ("sqlite3.OperationalError: database or disk is full", "the disk is full"),
        ("PermissionError: [Errno 13] Permission denied: '/x'", "a folder may not be written to"),
        (
            "Traceback …\ndjango.core.exceptions.ImproperlyConfigured: WORKSHOP_DEBUG must be 1 or 0, not 'x'.\n\n",
            "WORKSHOP_DEBUG must be 1 or 0, not 'x'",
        ),
        ("", "it gave no reason"),
    ],
)  # fmt: skip
def test_cause(output, cause):
    assert cause_of(output) == cause


def test_last_line_drops_the_class_of_the_error():
    assert last_line("a\nsqlite3.DatabaseError: file is not a database\n") == "file is not a database"


@pytest.mark.parametrize(
    ("number", "begins"),
    [
        (errno.ENOSPC, "The disk is full: /d"),
        (errno.EACCES, "You may not write to /d"),
        (errno.EROFS, "You may not write to /d"),
    ],
)
def test_errors_of_the_system_are_sentences(number, begins):
    said = sentence_for(OSError(number, "?", "/d"))
    assert said.startswith(begins)
    assert said.endswith(".")
