"""Reads `.env`: one NAME=value a line. What the environment already says wins; an empty value says nothing."""

import os
import re

LINE = re.compile(r"(?:export\s+)?([A-Za-z_]\w*)\s*=\s*(.*)")


class EnvFileError(ValueError):
    """The file cannot be read; the message is a sentence."""


def parse(text, name=".env"):
    """The values in `text`. Blank lines and lines that begin with # say nothing; quotes around a value are dropped."""
    values = {}
    for number, line in enumerate(text.splitlines(), 1):
        line = line.strip()
        if not line or line.startswith("#"):
            continue
        found = LINE.fullmatch(line)
        if not found:
            raise EnvFileError(f"Line {number} of {name} is not of the form NAME=value.")
        value = found[2].strip()
        if len(value) > 1 and value[0] == value[-1] and value[0] in "\"'":
            value = value[1:-1]
        values[found[1]] = value
    return values


def load(path):
    """Put the file's values into this process's environment, where it does not say otherwise."""
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return
    except (OSError, UnicodeDecodeError) as error:
        raise EnvFileError(f"{path} cannot be read: {getattr(error, 'strerror', None) or 'it is not text'}.") from error
    for name, value in parse(text, path.name).items():
        if value:
            os.environ.setdefault(name, value)
