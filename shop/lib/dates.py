"""Days of the workshop: today, this week, and days on which the bench works."""

from datetime import date, timedelta

from django.utils import timezone

FARTHEST_DAYS = 2 * 365  # a promise beyond this is a slip of the finger
SATURDAY = 5


def today():
    """Today in the workshop's zone."""
    return timezone.localdate()


def days_ago(moment):
    """How many days of the calendar ago `moment` was, in the workshop's zone."""
    return (today() - timezone.localdate(moment)).days


def week_of(day):
    """(Monday, Sunday) of the week of `day`."""
    monday = day - timedelta(days=day.weekday())
    return monday, monday + timedelta(days=6)


def next_month(day):
    """The first day of the month after that of `day`."""
    return date(day.year + day.month // 12, day.month % 12 + 1, 1)


def is_working_day(day):
    return day.weekday() < SATURDAY


def working_day_after(day, count):
    """The working day that is `count` working days after `day`; 0 is `day` itself or the next working day."""
    while not is_working_day(day):
        day += timedelta(days=1)
    weeks, rest = divmod(count, 5)
    day += timedelta(weeks=weeks)
    while rest:
        day += timedelta(days=1)
        rest -= is_working_day(day)
    return day


def read_day(text):
    """The date written as 2026-03-01, or None for anything else. A date stays what it is."""
    if isinstance(text, date):
        return text
    try:
        return date.fromisoformat(text or "")
    except ValueError:
        return None


def is_believable_promise(day, *, now):
    return now <= day <= now + timedelta(days=FARTHEST_DAYS)


def spoken_minutes(minutes):
    """`1 h 20 min`, `45 min`, `2 h`."""
    hours, rest = divmod(int(minutes), 60)
    parts = [f"{hours} h" if hours else "", f"{rest} min" if rest or not hours else ""]
    return " ".join(part for part in parts if part)
