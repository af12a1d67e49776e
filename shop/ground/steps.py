"""Runs one command of the set-up and sees that it does not outlive us."""

import contextlib
import ctypes
import os
import signal
import subprocess
from dataclasses import dataclass

from shop.ground.places import ROOT, child_environment

LIBC = ctypes.CDLL(None, use_errno=True)
SET_DEATH_SIGNAL = 1  # prctl(2): PR_SET_PDEATHSIG


def die_with_parent():
    """In the child: be told to stop when the parent is gone, even if it was killed outright, and listen to that."""
    LIBC.prctl(SET_DEATH_SIGNAL, signal.SIGTERM, 0, 0, 0)
    signal.pthread_sigmask(signal.SIG_SETMASK, ())


def start(command, *, environment=None, **options):
    """Start a child in a session of its own, so that Ctrl-C reaches it through us and in order."""
    return subprocess.Popen(
        command,
        cwd=ROOT,
        env=environment or child_environment(),
        stdin=subprocess.DEVNULL,
        start_new_session=True,
        preexec_fn=die_with_parent,  # safe, since this process has one thread
        **options,
    )


def stop(child, *, grace_s=10):
    """Ask a child to stop, and its whole group if it does not within `grace_s` seconds."""
    if child.poll() is None:
        child.terminate()
        with contextlib.suppress(subprocess.TimeoutExpired):
            child.wait(grace_s)
    with contextlib.suppress(ProcessLookupError, PermissionError):
        os.killpg(child.pid, signal.SIGKILL)
    child.wait()


@dataclass(frozen=True)
class Outcome:
    code: int
    output: str

    @property
    def well(self):
        return self.code == 0


def run(command, *, environment=None, log=None):
    """Run a command to its end and return what it printed; stop it if we are stopped.

    log: a file that the output is added to, where that is possible.
    """
    child = start(
        command, environment=environment,
        stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, errors="replace",
    )  # fmt: skip
    try:
        output, _ = child.communicate()
    finally:
        stop(child)
        child.stdout.close()
    if log:
        write_log(log, command, output)
    return Outcome(child.returncode, output)


def write_log(path, command, output):
    """Keep a command's output for whoever wants to know more; a full disk is told elsewhere."""
    with contextlib.suppress(OSError):
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("a", encoding="utf-8") as log:
            log.write(f"$ {' '.join(map(str, command))}\n{output}\n")
