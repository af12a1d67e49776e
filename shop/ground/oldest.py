"""Refuses a Python that is too old, in a sentence. Written so that even such a Python can read it."""

import os
import sys

OLDEST = (3, 11)


def refuse_old_python(command, version=None, folders=None):
    """Leave with a sentence if `version` is too old, naming a newer Python if one lies in `folders`."""
    version = tuple(version or sys.version_info)[:3]
    if version >= OLDEST:
        return
    sentence = "Python " + dotted(OLDEST) + " or newer is needed, and this is Python " + dotted(version)
    newer = newer_python(os.environ.get("PATH", "").split(os.pathsep) if folders is None else folders)
    advice = "; run it as: " + newer + " -m " + command if newer else "; install a newer one and run this again."
    sys.stderr.write(sentence + advice + "\n")
    sys.exit(1)


def dotted(version):
    return ".".join(str(part) for part in version)


def newer_python(folders):
    """The name of the newest fitting Python on the path, or None."""
    for minor in range(OLDEST[1] + 9, OLDEST[1] - 1, -1):
        name = "python" + dotted((OLDEST[0], minor))
        for folder in folders:
            path = os.path.join(folder, name)
            # A version manager's stand-in is in the folder whether or not that version can be run.
            if os.access(path, os.X_OK) and os.path.basename(folder) != "shims":
                return name
    return None
