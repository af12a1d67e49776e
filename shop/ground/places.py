"""Where things lie."""

import os
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
VENV = ROOT / ".venv"
PYTHON = VENV / "bin" / "python"
ENV_FILE = ROOT / ".env"
WHEELS = ROOT / ".wheels"  # packages brought by hand to a machine without network

# What would make a child look for packages, or install them, somewhere else than in .venv.
# Without compiled code kept, every start and every child would compile all of it anew.
MISLEADING = ("PYTHONPATH", "PYTHONHOME", "PYTHONSAFEPATH", "PYTHONDONTWRITEBYTECODE", "PIP_TARGET", "PIP_PREFIX",
              "PIP_ROOT", "PIP_REQUIRE_VIRTUALENV", "__PYVENV_LAUNCHER__")  # fmt: skip


def child_environment(**more):
    """The environment for a child process: this one's, less what would mislead it, even another project's settings."""
    kept = {name: value for name, value in os.environ.items() if name not in MISLEADING}
    return {**kept, "PIP_USER": "0", "PYTHONUNBUFFERED": "1", "DJANGO_SETTINGS_MODULE": "shop.settings", **more}
