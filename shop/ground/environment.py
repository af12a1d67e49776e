"""The virtual environment: made once, brought up to date when the requirements change, made anew when it cannot be."""

import os
import re
import shutil
import sys

from shop.ground import lock, stamps, steps, system
from shop.ground.places import PYTHON, ROOT, VENV, WHEELS
from shop.ground.words import Trouble, cause_of, sentence_for, step

STAMP = VENV / "made-of.json"
LOG = VENV / "set-up.log"
NEEDED_MB = 500
BASE_PYTHON = getattr(sys, "_base_executable", None) or sys.executable


def see_to(requirements, needs=system.FOR_SHOP):
    """Make `.venv` hold what the file `requirements` asks for; return its Python."""
    system.see_to(needs if not is_ready(requirements) else [need for need in needs if need is not system.VENV])
    if not is_ready(requirements):
        held = lock.take(ROOT, wait_saying="Another start is preparing the environment; waiting for it …")
        try:
            if not is_ready(requirements):
                prepare(requirements)
        finally:
            lock.release(held)
    return PYTHON


def interpreter():
    """What makes an environment useless when it changes: the Python behind it, and the folder's own place."""
    return [os.path.realpath(BASE_PYTHON), *sys.version_info[:2], str(VENV)]


def name_of(requirements):
    return str(requirements.relative_to(ROOT))


def wanted(requirements):
    """The fingerprint of a requirements file and of those it includes."""
    return stamps.fingerprint(*included(requirements))


def included(path):
    text = path.read_text(encoding="utf-8")
    inner = re.findall(r"^-r\s+(\S+)", text, re.M)
    return [path, *(file for name in inner for file in included((path.parent / name).resolve()))]


def is_ready(requirements):
    made = stamps.read(STAMP)
    return (
        made.get("interpreter") == interpreter()
        and made.get("holds", {}).get(name_of(requirements)) == wanted(requirements)
        and os.access(PYTHON, os.X_OK)
    )


def prepare(requirements):
    """Fill the environment. Its stamp is away meanwhile: if we are cut off, the next start makes it from nothing."""
    made = stamps.read(STAMP)
    is_fit = made.get("interpreter") == interpreter() and os.access(PYTHON, os.X_OK)
    try:
        check_room()
        STAMP.unlink(missing_ok=True)
        if not is_fit:
            make_empty()
            made = {"interpreter": interpreter(), "holds": {}}
        install(requirements, made)
        made["holds"] |= {name_of(path): wanted(path) for path in included(requirements)}
        stamps.write(STAMP, made)
    except OSError as error:
        raise Trouble(sentence_for(error)) from error


def check_room():
    if not os.access(ROOT, os.W_OK):
        raise Trouble(f"You may not write to {ROOT}, where the environment has to be made: copy it to your own place.")
    free_mb = shutil.disk_usage(ROOT).free // 1_000_000
    if free_mb < NEEDED_MB:
        raise Trouble(f"The disk is full: {NEEDED_MB} MB are needed in {ROOT}, and {free_mb} MB are free.")


def make_empty():
    if VENV.exists():
        shutil.rmtree(VENV)
    with step("Making a Python environment in .venv"):
        outcome = steps.run([BASE_PYTHON, "-m", "venv", str(VENV)])
    if not outcome.well:
        raise Trouble(f"The Python environment could not be made, because {cause_of(outcome.output)}.")


def install(requirements, made):
    """Let pip install. If it failed before it changed anything, what was there still counts."""
    command = [str(PYTHON), "-m", "pip", "install", "--no-input", "--disable-pip-version-check", "--retries", "1",
               "--require-hashes"]  # fmt: skip
    if WHEELS.is_dir():
        command += ["--no-index", "--find-links", str(WHEELS)]
    with step("Installing the Python packages (some minutes on a slow line, and only once)"):
        outcome = steps.run([*command, "-r", str(requirements)], log=LOG)
    if outcome.well:
        return
    if "Installing collected packages" not in outcome.output and made["holds"]:
        stamps.write(STAMP, made)
    raise Trouble(why_not_installed(cause_of(outcome.output)))


def why_not_installed(cause):
    advice = {
        "there is no network": f"connect this machine once, or put the packages into {WHEELS} as README.md describes.",
        "the disk is full": f"free some space on the disk of {VENV} and start again.",
    }.get(cause, f"{LOG} has the whole story.")
    return f"The Python packages could not be installed, because {cause}: {advice}"
