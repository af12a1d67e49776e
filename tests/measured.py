"""Figures of the long runs: printed, and kept in `.measured/`, one file a run."""

import json
import os
import platform
import sys
from datetime import UTC, datetime
from pathlib import Path

FOLDER = Path(__file__).resolve().parent.parent / ".measured"


def keep(name, **figures):
    """Print the figures and write them to a file of this run's own; returns its path."""
    now = datetime.now(UTC)
    about = {"at": now.isoformat(timespec="seconds"), "cores": os.cpu_count(), "python": platform.python_version()}
    FOLDER.mkdir(exist_ok=True)
    path = FOLDER / f"{name}-{now:%Y%m%d-%H%M%S}.json"
    path.write_text(json.dumps({**about, **figures}, indent=1, default=str) + "\n", encoding="utf-8")
    sys.stdout.write(f"\n{name}:\n" + "".join(f"  {key:34} {value}\n" for key, value in figures.items()))
    sys.stdout.write(f"  kept in {path}\n")
    return path
