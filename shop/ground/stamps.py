"""Notes that a piece of set-up was finished, and from what: written last, so that an interrupted one is done again."""

import hashlib
import json
import os
from pathlib import Path


def fingerprint(*parts):
    """A short digest of texts, bytes and files; a path stands for what lies in it."""
    digest = hashlib.sha256()
    for part in parts:
        content = part.read_bytes() if isinstance(part, Path) else str(part).encode()
        digest.update(len(content).to_bytes(8, "big") + content)
    return digest.hexdigest()[:32]


def read(path):
    """What was noted; nothing if there is no note or only a torn one."""
    try:
        noted = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return noted if isinstance(noted, dict) else {}


def write(path, noted):
    """Replace the note in one piece."""
    draft = path.with_name(path.name + ".draft")
    with draft.open("w", encoding="utf-8") as file:
        json.dump(noted, file, indent=1)
        file.flush()
        os.fsync(file.fileno())
    draft.replace(path)
