"""How long the work took: the stretches that the tablets saw, each moment counted once, and what was said by hand."""

import heapq
from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True)
class Part:
    """A stretch of time that belongs to one step alone."""

    step: str
    began: object
    ended: object

    def after(self, moment):
        """Seconds of it that lie after `moment`; all of it for None."""
        began = self.began if moment is None else max(self.began, moment)
        return max((self.ended - began).total_seconds(), 0.0)


def apart(spans):
    """Parts that do not overlap: while several tablets are at work, the step that was taken up last has the moment.

    `spans` have `step`, `began_at` and `ended_at`. Their sum is the time in which anybody was at work at all.
    """
    ordered = sorted(spans, key=lambda one: (one.began_at, one.pk or 0))
    moments = sorted({moment for one in ordered for moment in (one.began_at, one.ended_at)})
    parts, running, next_up = [], [], 0  # running: a heap, the one begun last first
    for begins, ends in pairwise(moments):
        while next_up < len(ordered) and ordered[next_up].began_at <= begins:
            heapq.heappush(running, (-next_up, ordered[next_up]))
            next_up += 1
        while running and running[0][1].ended_at <= begins:
            heapq.heappop(running)
        if running:
            parts.append(Part(running[0][1].step, begins, ends))
    return parts


def seconds_by_step(spans, by_hand):
    """{step: seconds}. What somebody set by hand (oldest first) stands for everything before it on that step."""
    last = {one.step: one for one in by_hand}
    found = {step: float(one.seconds) for step, one in last.items()}
    for part in apart(spans):
        set_at = last[part.step].at if part.step in last else None
        found[part.step] = found.get(part.step, 0.0) + part.after(set_at)
    return found


def of_sheet(worksheet):
    """{step: seconds} of a worksheet. Two queries."""
    return seconds_by_step(worksheet.spans.all(), worksheet.times_by_hand.all())


def whole_of(worksheet):
    """Whole seconds of a worksheet, all steps together. Two queries."""
    return round(sum(of_sheet(worksheet).values()))


def said(seconds):
    """`under a minute`, `12 min`, `1 h 05 min`; '' for nothing at all."""
    minutes = int(seconds / 60 + 0.5)
    if minutes == 0:
        return "under a minute" if seconds > 0 else ""
    return f"{minutes} min" if minutes < 60 else f"{minutes // 60} h {minutes % 60:02d} min"
