"""Days of the workshop. 25 November 2026 is a Wednesday."""

from datetime import UTC, date, datetime

import pytest
from django.utils import timezone

from shop.lib import dates

WEDNESDAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("count", "day"),
    [(0, WEDNESDAY), (1, date(2026, 11, 26)), (2, date(2026, 11, 27)), (3, date(2026, 11, 30)), (5, date(2026, 12, 2)),
     (13, date(2026, 12, 14))],
)  # fmt: skip
def test_weekends_are_left_out(count, day):
    assert dates.working_day_after(WEDNESDAY, count) == day


@pytest.mark.parametrize("start", [date(2026, 11, 28), date(2026, 11, 29)])
def test_a_weekend_counts_from_monday(start):
    assert dates.working_day_after(start, 0) == date(2026, 11, 30)
    assert dates.working_day_after(start, 1) == date(2026, 12, 1)


def test_every_count_is_one_working_day_further():
    days = [dates.working_day_after(WEDNESDAY, count) for count in range(60)]
    assert all(dates.is_working_day(day) for day in days)
    assert len(set(days)) == 60
    assert days == sorted(days)


def test_the_week_runs_from_monday_to_sunday():
    assert dates.week_of(WEDNESDAY) == (date(2026, 11, 23), date(2026, 11, 29))


@pytest.mark.parametrize(("minutes", "said"), [(0, "0 min"), (45, "45 min"), (60, "1 h"), (80, "1 h 20 min")])
def test_minutes_are_said_in_hours(minutes, said):
    assert dates.spoken_minutes(minutes) == said


def test_days_ago_are_those_of_the_workshops_calendar(monkeypatch):
    with timezone.override("Europe/Berlin"):
        monkeypatch.setattr(dates, "today", lambda: WEDNESDAY)
        just_past_midnight_there = datetime(2026, 11, 24, 23, 30, tzinfo=UTC)
        assert dates.days_ago(just_past_midnight_there) == 0


@pytest.mark.parametrize(
    ("day", "believable"),
    [(WEDNESDAY, True), (date(2026, 11, 24), False), (date(2028, 11, 1), True), (date(2126, 11, 25), False)],
)
def test_a_promise_lies_ahead_and_not_in_another_century(day, believable):
    assert dates.is_believable_promise(day, now=WEDNESDAY) is believable
