"""The whole program as its users start it: a real process with real children, on a port and a folder of its own."""

import contextlib
import os
import re
import signal
import subprocess
import sys
import threading
import time
import urllib.error
import urllib.request
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent

# In a development tree the environment is made by hand: the tests leave it alone and use the Python they run on.
START = """
import sys
from pathlib import Path
from shop.ground import data_folder, environment, start
environment.see_to = lambda *asked: None
start.PYTHON = data_folder.PYTHON = Path(sys.executable)
sys.exit(start.main(sys.argv[1:]))
"""
LONGEST = 300  # seconds; a shop that neither speaks nor ends by then is ended, and its test fails


def hear_ctrl_c():
    """A shell that starts the tests in the background makes them deaf to Ctrl-C, and children inherit that."""
    signal.signal(signal.SIGINT, signal.default_int_handler)


class RunningShop:
    """`python3 -m shop` with these arguments. Its output is read as it comes."""

    def __init__(self, folder, *arguments, port=0, command=None, longest=LONGEST, **environment):
        self.folder = Path(folder)
        command = command or [sys.executable, "-c", START]
        kept = {name: value for name, value in os.environ.items() if not name.startswith(("WORKSHOP_", "DATABASE_URL"))}
        self.began = time.monotonic()
        self.process = subprocess.Popen(
            [*command, "--data", str(folder), "--port", str(port), *arguments],
            cwd=ROOT, env={**kept, **environment}, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
            preexec_fn=hear_ctrl_c,
        )  # fmt: skip
        self.guard = threading.Timer(longest, self.process.kill)
        self.guard.daemon = True
        self.guard.start()
        self.said = ""

    def __enter__(self):
        return self

    def __exit__(self, *exception):
        if self.process.poll() is None:
            self.stop()
        self.guard.cancel()
        self.process.stdout.close()

    def wait_until_open(self):
        """Read what it says up to the address, and return that."""
        for line in self.process.stdout:
            self.said += line
            if found := re.search(r"The workshop is open at (\S+)", line):
                self.address = found[1]
                return self.address
        raise AssertionError(f"It did not open: {self.said}")

    def wait_until_said(self, text):
        while text not in self.said:
            line = self.process.stdout.readline()
            assert line, f"It ended without saying {text!r}: {self.said}"
            self.said += line

    def get(self, path="/"):
        """The status of a page and its headers."""
        try:
            with urllib.request.urlopen(self.address + path, timeout=20) as answer:
                return answer.status, answer.headers
        except urllib.error.HTTPError as error:
            with error:
                return error.code, error.headers

    def children(self):
        """The processes it has started: number → command line."""
        return children_of(self.process.pid)

    def processor_seconds(self):
        """What starting has cost so far, the mail worker apart, which starts beside it."""
        web = [number for number, command in self.children().items() if "shop.serve" in command]
        return sum(spent(number) for number in [self.process.pid, *web])

    def stop(self, how=signal.SIGTERM):
        """Stop it and return its exit code."""
        self.process.send_signal(how)
        return self.finish()

    def finish(self):
        self.said += self.process.stdout.read()
        return self.process.wait(30)


def children_of(number):
    found = {}
    for entry in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            parent = int((entry / "stat").read_text().rsplit(")", 1)[1].split()[1])
            if parent == number:
                found[int(entry.name)] = (entry / "cmdline").read_text().replace("\0", " ").strip()
    return found


def spent(number):
    """The processor time of a process and of its children that have ended, in seconds."""
    fields = Path(f"/proc/{number}/stat").read_text().rsplit(")", 1)[1].split()
    return sum(map(int, fields[11:15])) / os.sysconf("SC_CLK_TCK")


def is_alive(number):
    """Whether a process still runs; one that only waits to be counted does not."""
    try:
        return Path(f"/proc/{number}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False
