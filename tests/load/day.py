"""What ten people do in a busy shop, as requests by HTTP, sent at their own times whatever the server is doing."""

import random
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

# Requests an hour of one shop of ten at its busiest, by kind [CP, an estimate of ours: common practice, no source].
AN_HOUR = {
    "list": 120, "filter": 60, "search": 120, "order": 240, "bench": 60, "step": 240, "reading": 300, "book_in": 6,
    "tag": 12, "receipt": 6, "draft": 6, "invoice": 6, "ready": 6,
}  # fmt: skip


@dataclass
class Measured:
    """Seconds from when a request was due until it was answered whole, by kind; and what went wrong."""

    seconds: dict = field(default_factory=lambda: {kind: [] for kind in AN_HOUR})
    errors: list = field(default_factory=list)

    def add(self, kind, taken):
        self.seconds[kind].append(taken)


def quantile(values, part):
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(part * len(ordered)))] if ordered else float("nan")


def plan(times, seconds, *, at_most, seed=1):
    """When what is due: (seconds from the start, kind), at random moments, `times` as busy as one shop.

    at_most: {kind: how often it can be done at all}.
    """
    chance = random.Random(seed)
    counts = {kind: max(1, round(times * count / 3600 * seconds)) for kind, count in AN_HOUR.items()}
    counts |= {kind: min(counts[kind], most) for kind, most in at_most.items()}
    return sorted((chance.uniform(0, seconds), kind) for kind, count in counts.items() for _ in range(count))


def run(due, do, *, workers=64):
    """Do each thing when it is due. A slow answer delays no other request; its own wait counts from when it was due."""
    measured, lock, began = Measured(), threading.Lock(), time.monotonic()

    def one(at, kind):
        try:
            do(kind)
        except Exception as error:  # noqa: BLE001 (whatever it was, it is counted)
            with lock:
                measured.errors.append(f"{kind}: {error}"[:300])
            return
        with lock:
            measured.add(kind, time.monotonic() - began - at)

    with ThreadPoolExecutor(workers) as people:
        for at, kind in due:
            time.sleep(max(0.0, began + at - time.monotonic()))
            people.submit(one, at, kind)
    return measured, time.monotonic() - began
