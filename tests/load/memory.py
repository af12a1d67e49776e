"""The memory of processes, looked at every minute while something else runs."""

import contextlib
import os
import threading
from pathlib import Path

import numpy as np

EVERY_S = 60


def resident_mb(number):
    """Memory of a process that only it holds or that it shares, in MB."""
    return int(Path(f"/proc/{number}/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 1e6


class Watch:
    """Looks at once, then every minute, and once more at the end."""

    def __init__(self, processes):
        self.processes = processes  # {what it is: its number}
        self.seen = {name: [] for name in processes}
        self.over = threading.Event()

    def look(self):
        for name, number in self.processes.items():
            self.seen[name].append(resident_mb(number))

    def _keep_looking(self):
        self.look()
        while not self.over.wait(EVERY_S):
            self.look()

    @contextlib.contextmanager
    def looking(self):
        watcher = threading.Thread(target=self._keep_looking, daemon=True)
        watcher.start()
        try:
            yield self
        finally:
            self.over.set()
            watcher.join()
            self.look()

    def figures(self):
        """Of each process its MB by the minute, and how many it gains an hour by the straight line through them."""
        found = {}
        for name, seen in self.seen.items():
            found[f"{name}_mb"] = " ".join(f"{one:.0f}" for one in seen)
            found[f"{name}_mb_an_hour"] = round(slope(seen), 1)
        return found

    def grown(self):
        """{process: its last look by its highest in the first third}; none of a run too short to have thirds.

        By then each has set a paper: a mail worker does so for the first time when it is its turn.
        """
        return {name: seen[-1] / max(seen[: len(seen) // 3]) for name, seen in self.seen.items() if len(seen) > 5}


def slope(seen, every_s=EVERY_S):
    """What one more hour adds, by least squares over all looks but the last, which comes out of turn."""
    looks = seen[:-1]
    if len(looks) < 3:
        return float("nan")
    return float(np.polyfit(np.arange(len(looks)) * every_s / 3600, looks, 1)[0])
