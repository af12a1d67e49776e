"""The web server and the mail worker: started, watched, started again, and stopped."""

import os
import select
import time

from shop.ground import steps
from shop.ground.words import Trouble, last_line, say

FIRST_WAIT_S = 1
LONGEST_WAIT_S = 60
STEADY_AFTER_S = 60
PATIENCE_S = 60
KEEP_BYTES = 5_000_000


class Child:
    """A process that runs beside us and writes to a log of its own."""

    def __init__(self, title, command, log, environment):
        self.title = title
        self.command = command
        self.log = log
        self.environment = environment
        self.process = None

    def start(self, **options):
        keep_short(self.log)
        with self.log.open("ab") as log:
            self.said_before = log.tell()
            self.process = steps.start(self.command, environment=self.environment, stdout=log, stderr=log, **options)

    def has_ended(self):
        return self.process.poll() is not None

    def last_words(self):
        """Why it ended, as far as it said."""
        with self.log.open("rb") as log:
            log.seek(max(self.said_before, self.log.stat().st_size - 4000))
            said = last_line(log.read().decode(errors="replace"))
        code = self.process.returncode
        ended = f"signal {-code}" if code < 0 else f"exit code {code}"
        return f"{said} ({ended})" if said else ended

    def ask_to_stop(self):
        if self.process and not self.has_ended():
            self.process.terminate()

    def stop(self):
        if self.process:
            steps.stop(self.process, grace_s=15)


class Steady:
    """Starts a child again when it ends, each time after a longer wait, until it has run for a while."""

    def __init__(self, child, clock=time.monotonic):
        self.child = child
        self.clock = clock
        self.wait_s = FIRST_WAIT_S
        self.start_at = None
        self._start()

    def _start(self):
        self.child.start()
        self.began = self.clock()
        self.start_at = None

    def look_after(self):
        now = self.clock()
        if self.start_at is not None:
            if now >= self.start_at:
                self._start()
        elif self.child.has_ended():
            if now - self.began >= STEADY_AFTER_S:
                self.wait_s = FIRST_WAIT_S
            say(f"{self.child.title} stopped: {self.child.last_words()}. It is started again in {self.wait_s} s.")
            self.start_at = now + self.wait_s
            self.wait_s = min(2 * self.wait_s, LONGEST_WAIT_S)


def keep_short(log):
    """Begin a new log when the old one is long; one older is kept."""
    log.parent.mkdir(parents=True, exist_ok=True)
    if log.exists() and log.stat().st_size > KEEP_BYTES:
        log.replace(log.with_suffix(".old.log"))


def start_web(web, listener):
    """Start the web server on our socket and wait until it says that it answers."""
    ready, tell = os.pipe()
    web.command = [*web.command, "--socket", str(listener.fileno()), "--ready", str(tell)]
    web.start(pass_fds=(listener.fileno(), tell))
    os.close(tell)
    listener.close()
    answered = select.select([ready], [], [], PATIENCE_S)[0] and os.read(ready, 1)
    os.close(ready)
    if answered:
        return
    web.stop()
    raise Trouble(f"The web server did not start: {web.last_words()}. {web.log} has the whole story.")
