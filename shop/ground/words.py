"""What is said at the terminal: progress in short lines, trouble in one sentence."""

import errno
import re
import sys
import time
from contextlib import contextmanager, suppress


class Trouble(Exception):
    """Why a start cannot go on. Its text is one whole sentence for the person at the terminal."""


def say(text="", *, end="\n", to=None):
    """Print at once. A terminal that has gone away is no reason to stop."""
    with suppress(BrokenPipeError, ValueError):
        print(text, end=end, flush=True, file=to)


@contextmanager
def step(title):
    """Say what is being done, and how long it took."""
    say(f"{title} …", end=" ")
    began = time.monotonic()
    try:
        yield
    except BaseException:
        say()
        raise
    say(f"{time.monotonic() - began:.0f} s")


FULL = {errno.ENOSPC, errno.EDQUOT}
FORBIDDEN = {errno.EACCES, errno.EPERM, errno.EROFS}


def sentence_for(error):
    """An operating system's error as a sentence."""
    where = error.filename or "the disk"
    if error.errno in FULL:
        return f"The disk is full: {where} could not be written. Free some space and start again."
    if error.errno in FORBIDDEN:
        return f"You may not write to {where}: choose another folder with --data, or have its owner give you the right."
    return f"{where}: {error.strerror or error}."


NO_NETWORK = re.compile(
    r"NewConnectionError|NameResolutionError|name resolution|ConnectTimeout|ReadTimeout|Network is unreachable"
    r"|Connection refused|Could not resolve|Failed to fetch|Unable to fetch|ProxyError|Connection broken|timed out"
)
NO_SPACE = re.compile(r"No space left on device|Disk quota exceeded|database or disk is full")
NO_RIGHT = re.compile(r"Permission denied|Read-only file system|readonly database|are you root")
NAMED_ERROR = re.compile(r"^[\w.]*(?:Error|Exception|ImproperlyConfigured): +")


def cause_of(output):
    """Why a command failed, from what it printed: a short clause without a full stop."""
    for pattern, clause in [
        (NO_SPACE, "the disk is full"),
        (NO_RIGHT, "a folder may not be written to"),
        (NO_NETWORK, "there is no network"),
    ]:
        if pattern.search(output):
            return clause
    return last_line(output) or "it gave no reason"


def last_line(output):
    """The last line that says something, without the name of the error's class and without a full stop."""
    lines = [line.strip() for line in output.splitlines() if line.strip()]
    return NAMED_ERROR.sub("", lines[-1]).rstrip(".") if lines else ""


def complain(error):
    """Print trouble on standard error."""
    say(str(error), to=sys.stderr)
