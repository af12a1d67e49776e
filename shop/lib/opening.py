"""Opening hours: read from the lines in which people write them, said in one way, and asked about a moment.

`Tue–Fri 10:00–13:00, 14:30–18:00` is a line; a day that no line names is closed. Times are those of the clock on the
wall, in minutes of the day, so that a night on which the clock is changed needs no rule of its own.
"""

import itertools
import re
from dataclasses import dataclass
from datetime import date, timedelta

WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MOST_SPANS = 2
A_DAY = 24 * 60
FARTHEST = 120  # days that are looked through for the next open one
DAYS = "|".join(("mon", "tue", "wed", "thu", "fri", "sat", "sun"))
TOKEN = re.compile(
    rf"(?P<day>{DAYS})[a-z]*\.?|(?P<every>daily|every day)"
    r"|(?P<time>\d{1,2})(?:[:.h](?P<minute>\d{2}))?\s*(?P<half>am|pm)?"
    r"|(?P<to>[-‐-―]|to\b|until\b|bis\b)|(?P<closed>closed)|(?P<between>[\s,;:&|/]+|and\b|from\b)"
)
EXAMPLE = "Write a line for each, such as: Tue–Fri 10:00–18:00."
HALF = f"A day needs the time it opens and the time it closes. {EXAMPLE}"


class HoursUnreadable(ValueError):
    """The message is a sentence for people."""


@dataclass(frozen=True)
class Week:
    """`days` are each weekday's spans from Monday on, as (opens, closes) in minutes; without any, nothing is known."""

    days: tuple = ((),) * 7

    @property
    def is_known(self):
        return any(self.days)

    def on(self, day):
        return self.days[day.weekday()]

    @property
    def lines(self):
        """As papers and pages say it: days that follow each other and are alike in one line."""
        said, at = [], 0
        while at < len(self.days):
            end = at
            while end + 1 < len(self.days) and self.days[end + 1] == self.days[at]:
                end += 1
            if self.days[at]:
                said.append(f"{_days(at, end)} {', '.join(map(span_said, self.days[at]))}")
            at = end + 1
        return said

    def __str__(self):
        return "\n".join(self.lines)


def _days(first, last):
    if first == last:
        return WEEKDAYS[first]
    return f"{WEEKDAYS[first]}{', ' if last == first + 1 else '–'}{WEEKDAYS[last]}"


def clock(minutes):
    """`9:30` as people say it on a door: 09:30."""
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def span_said(span):
    return f"{clock(span[0])}–{clock(span[1])}"


def read(text):
    """The Week that `text` says. Raises HoursUnreadable."""
    days = [[] for _ in WEEKDAYS]
    for chosen, spans in _entries(_tokens(text)):
        for weekday in chosen:
            days[weekday] += spans
    return checked(days)


def week_of(text):
    """The Week that was written down; one that is not known where nothing, or nothing readable, was."""
    try:
        return read(text or "")
    except HoursUnreadable:
        return Week()


def _afternoon(opens, closes):
    """What is meant by whoever writes 5.30 for half past five in the afternoon."""
    later = closes + A_DAY // 2
    return f" Write {clock(later)} if that is meant." if opens < later < A_DAY else ""


def checked(days):
    """The Week of these spans, [(opens, closes), …] for each day. Raises HoursUnreadable."""
    for name, spans in zip(WEEKDAYS, days, strict=True):
        spans.sort()
        for opens, closes in spans:
            if closes <= opens:
                raise HoursUnreadable(f"{name}: it closes before it opens.{_afternoon(opens, closes)}")
        if len(spans) > MOST_SPANS:
            raise HoursUnreadable(f"{name}: a day has two spans at most.")
        if any(later[0] < earlier[1] for earlier, later in itertools.pairwise(spans)):
            raise HoursUnreadable(f"{name}: the second span begins before the first one ends.")
    return Week(tuple(tuple(spans) for spans in days))


def _tokens(text):
    """(kind, value) of each word; what lies between is left out."""
    text, at = text.lower().strip(), 0
    while at < len(text):
        found = TOKEN.match(text, at)
        if not found:
            raise HoursUnreadable(f"“{text[at:at + 20]}” is no day and no time. {EXAMPLE}")
        at = found.end()
        if found["day"]:
            yield "day", DAYS.split("|").index(found["day"])
        elif found["time"]:
            yield "time", _minutes(found)
        elif not found["between"]:
            yield found.lastgroup, None


def minutes_of(text):
    """The minutes of one time of the day: `10`, `10:30`, `6pm`. Raises HoursUnreadable."""
    found = TOKEN.fullmatch(text.lower().strip())
    if not found or not found["time"]:
        raise HoursUnreadable(f"“{text[:20]}” is no time of the day. Write one such as 10:30.")
    return _minutes(found)


def _minutes(found):
    hour, minute = int(found["time"]), int(found["minute"] or 0)
    if found["half"] and 1 <= hour <= 12:
        hour = hour % 12 + (12 if found["half"] == "pm" else 0)
    at = hour * 60 + minute
    if minute > 59 or at > A_DAY:
        raise HoursUnreadable(f"“{found[0].strip()}” is no time of the day. {EXAMPLE}")
    return at


def _entries(tokens):
    """[(weekdays, their spans)] in the order of the text: a day after a time begins the next."""
    groups = []
    for kind, value in tokens:
        begins = kind in ("day", "every") and any(one in ("time", "closed") for one, _ in groups[-1:] and groups[-1])
        if begins or not groups:
            groups.append([])
        groups[-1].append((kind, value))
    return [(_weekdays(group), _spans(group)) for group in groups]


def _weekdays(group):
    days, is_range = [], False
    for kind, value in group:
        if kind == "every":
            days += range(7)
        elif kind == "day":
            days += _after_until(days[-1], value) if is_range and days else [value]
        is_range = kind == "to"
    if not days:
        raise HoursUnreadable(HALF)
    return days


def _after_until(first, last):
    return [one % 7 for one in range(first + 1, last + (7 if last <= first else 0) + 1)]


def _spans(group):
    times = [value for kind, value in group if kind == "time"]
    if len(times) % 2 or not (times or any(kind == "closed" for kind, _ in group)):
        raise HoursUnreadable(HALF)
    return list(zip(times[::2], times[1::2], strict=True))


@dataclass(frozen=True)
class Opening:
    """When a shop is open: its week, and days on which it is closed all the same, as (first, last, what for)."""

    week: Week
    closed: tuple = ()

    @property
    def is_known(self):
        return self.week.is_known

    def closed_for(self, day):
        """What it is closed for on `day`, or ''. Only days that were written down as closed."""
        return next((name for first, last, name in self.closed if first <= day <= last), "")

    def is_shut(self, day):
        """Whether nobody can come on `day`. Where no hours are written down only closed days are known."""
        return bool(self.closed_for(day)) or (self.is_known and not self.week.on(day))

    def spans(self, day):
        return () if self.is_shut(day) else self.week.on(day)

    def open_day(self, day):
        """`day`, or the next one on which somebody can come; None when there is none for months."""
        days = (day + timedelta(days=number) for number in range(FARTHEST))
        return next((one for one in days if not self.is_shut(one)), None)

    def coming(self, now):
        """(day, opens, closes) of the span that is open at `now`, or opens next; None when nothing is known of it.

        `now` is a local time.
        """
        at = now.hour * 60 + now.minute
        for number in range(FARTHEST if self.is_known else 0):
            day = now.date() + timedelta(days=number)
            for opens, closes in self.spans(day):
                if number or at < closes:
                    return day, opens, closes
        return None

    def is_open(self, now):
        span = self.coming(now)
        return bool(span) and span[0] == now.date() and span[1] <= now.hour * 60 + now.minute


def day_said(day, now: date):
    """`today`, `tomorrow`, `Tue` within the week, else `Tue 10 Nov`."""
    ahead = (day - now).days
    if ahead < 7:
        return ("today", "tomorrow")[ahead] if ahead < 2 else f"{day:%a}"
    return f"{day:%a} {day.day} {day:%b}"


def open_said(opening, now):
    """`Open today until 18:00.`, `Closed now, open again tomorrow from 10:00.`; '' when no hours are known."""
    span = opening.coming(now)
    if span is None:
        why = opening.closed_for(now.date())
        return f"Closed today: {why}." if why else ""
    day, opens, closes = span
    if opening.is_open(now):
        return f"Open today until {clock(closes)}."
    why = opening.closed_for(now.date())
    if why:
        return f"Closed today: {why}. Open again {day_said(day, now.date())} from {clock(opens)}."
    begins = "Opens today at" if day == now.date() else f"Closed now. Open {day_said(day, now.date())} from"
    return f"{begins} {clock(opens)}."


def collect_said(opening, now):
    """`You can collect it today until 18:00.`, `… from Tue 10:00.`; '' when no hours are known."""
    span = opening.coming(now)
    if span is None:
        return ""
    day, opens, closes = span
    if opening.is_open(now):
        return f"You can collect it today until {clock(closes)}."
    return f"You can collect it from {day_said(day, now.date())}, {clock(opens)}."
