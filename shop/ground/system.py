"""What the operating system has to bring: found without asking it twice, installed by apt when it may be."""

import contextlib
import ctypes
import importlib.util
import os
import shlex
import shutil
import signal
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from shop.ground import postgres
from shop.ground.words import Trouble, cause_of, say

FONT_FOLDERS = ("/usr/share/fonts", "/usr/local/share/fonts", "~/.fonts", "~/.local/share/fonts")


@dataclass(frozen=True)
class Need:
    """Something of the system's, the package that brings it, and how to see whether it is there."""

    what: str
    package: str
    is_there: Callable[[], bool]


def library(*names):
    """Whether one of these shared libraries loads. (Looking for it by a short name would need a compiler's tools.)"""

    def is_there():
        for name in names:
            with contextlib.suppress(OSError):
                ctypes.CDLL(name)
                return True
        return False

    return is_there


def program(name):
    return lambda: shutil.which(name) is not None


def has_font():
    """Whether the fonts are there that fill in signs such as ♭ and → which the papers' own lack."""
    if Path("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf").exists():
        return True
    folders = (Path(folder).expanduser() for folder in FONT_FOLDERS)
    return any("DejaVuSans.ttf" in files for folder in folders for _, _, files in os.walk(folder))


def venv_package():
    """The package of the venv module that belongs to the Python we run on."""
    is_the_systems = os.path.realpath(sys.executable) == os.path.realpath("/usr/bin/python3")
    return "python3-venv" if is_the_systems else "python{}.{}-venv".format(*sys.version_info)


def chromium():
    """The browser of the tests, or None. The one that cannot open a window comes first: it asks less of the machine."""
    both = ("/usr/bin/chromium-headless-shell", WHOLE_CHROMIUM)
    return next((path for path in both if os.access(path, os.X_OK)), None)


VENV = Need("Python's venv module", venv_package(), lambda: importlib.util.find_spec("ensurepip") is not None)
PAPERS = (
    Need("Pango", "libpangoft2-1.0-0", library("libpangoft2-1.0.so.0", "libpangoft2-1.0.dylib")),
    Need("HarfBuzz's subsetter", "libharfbuzz-subset0", library("libharfbuzz-subset.so.0", "libharfbuzz-subset.dylib")),
    Need("the DejaVu fonts", "fonts-dejavu-core", has_font),
)
FOR_SHOP = (VENV, *PAPERS)
WHOLE_CHROMIUM = "/usr/bin/chromium"
FOR_TESTS = (
    *FOR_SHOP,
    Need("Chromium", "chromium-headless-shell", lambda: chromium() is not None),
    Need("pdftoppm", "poppler-utils", program("pdftoppm")),
    Need("git", "git", program("git")),
)
# What the benchmarks compare with is the browser that people have.
FOR_BENCHMARKS = (Need("the whole of Chromium", "chromium", lambda: os.access(WHOLE_CHROMIUM, os.X_OK)),)
SERVER = (Need("the PostgreSQL server", "postgresql", lambda: postgres.programs() is not None),)


def missing(needs):
    return [need for need in needs if not need.is_there()]


def install_line(packages, *, prefix=("sudo",)):
    return shlex.join([*prefix, "apt-get", "install", "-y", "--no-install-recommends", *packages])


def see_to(needs):
    """Install what is missing of `needs`, or raise Trouble with the one line to run."""
    lacking = missing(needs)
    if not lacking:
        return
    packages = [need.package for need in lacking]
    named = ", ".join(need.what for need in lacking)
    prefix = right_to_install()
    if prefix is None:
        raise Trouble(f"This machine lacks {named}: {how_to_bring(packages)}")
    say(f"This machine lacks {named}.")
    say(f"Installing with the system's package manager: {install_line(packages, prefix=prefix)}")
    output = install(packages, prefix)
    if still := missing(lacking):
        names = ", ".join(need.what for need in still)
        raise Trouble(f"{names} could not be installed, because {cause_of(output)}: {how_to_bring(packages)}")


def how_to_bring(packages):
    if shutil.which("apt-get"):
        return f"run this and then start again: {install_line(packages)}"
    return f"install what Debian calls {', '.join(packages)}, and then start again."


def right_to_install():
    """What to put before apt-get: nothing for root, sudo where it can be used, None where nothing helps."""
    if not shutil.which("apt-get"):
        return None
    if os.geteuid() == 0:
        return ()
    if not shutil.which("sudo"):
        return None
    asks_nothing = subprocess.run(["sudo", "-n", "true"], capture_output=True, stdin=subprocess.DEVNULL, check=False)
    if asks_nothing.returncode == 0:
        return ("sudo", "-n")
    return ("sudo",) if sys.stdin.isatty() else None


def install(packages, prefix):
    """Install by apt; on a fresh or interrupted machine bring its lists and its half-done work up to date first."""
    wanted = ["apt-get", "install", "-y", "--no-install-recommends", *packages]
    code, output = run_apt(wanted, prefix)
    if code:
        run_apt(["dpkg", "--configure", "-a"], prefix)
        run_apt(["apt-get", "update"], prefix)
        code, output = run_apt(wanted, prefix)
    return output


def run_apt(command, prefix):
    """Run one command of the package manager. Stopping us stops a download, but lets an installation finish."""
    child = subprocess.Popen(
        [*prefix, "env", "DEBIAN_FRONTEND=noninteractive", "LC_ALL=C", *command],
        # A password can be asked only where the terminal is ours.
        start_new_session=prefix != ("sudo",),
        stdin=None if prefix == ("sudo",) else subprocess.DEVNULL,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace",
    )  # fmt: skip
    try:
        output, _ = child.communicate()
    except BaseException:
        with contextlib.suppress(PermissionError):
            child.send_signal(signal.SIGINT)  # apt heeds it while it fetches, not while it unpacks
        say("Waiting for the package manager to come to a safe end …")
        child.communicate()
        raise
    return child.returncode, output
