"""Opening hours as people write them, and what follows at a moment. 25 November 2026 is a Wednesday."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

import pytest

from shop.lib.opening import HoursUnreadable, Opening, Week, collect_said, open_said, read, week_of

USUAL = read("Tue-Fri 10-18, Sat 10-14")
SPLIT = read("Mon–Fri 9:00–12:30, 14:00–18:00")


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("Tue–Fri 10–18, Sat 10–14", ["Tue–Fri 10:00–18:00", "Sat 10:00–14:00"]),
        ("tuesday to friday 10am to 6pm\nsat 10 - 14", ["Tue–Fri 10:00–18:00", "Sat 10:00–14:00"]),
        ("Mon, Wed, Fri 9.30–17.00; Sun closed", ["Mon 09:30–17:00", "Wed 09:30–17:00", "Fri 09:30–17:00"]),
        ("Mon-Fri 9:00-12:30 and 14:00-18:00", ["Mon–Fri 09:00–12:30, 14:00–18:00"]),
        ("daily 8-24", ["Mon–Sun 08:00–24:00"]),
        ("Sat-Mon 10-12", ["Mon 10:00–12:00", "Sat, Sun 10:00–12:00"]),
        ("Mon 14-18, Mon 9-12", ["Mon 09:00–12:00, 14:00–18:00"]),
        ("", []),
    ],
)
def test_what_people_write_is_read_and_said_in_one_way(written, said):
    assert read(written).lines == said
    assert read(str(read(written))) == read(written)


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("when we are here", "is no day and no time"),
        ("Tue 18-10", "closes before it opens. Write 22:00"),
        ("Mon-Fri 9-5.30", "Write 17:30 if that is meant"),
        ("Tue 23-10", "closes before it opens.$"),
        ("Tue 10", "the time it opens and the time it closes"),
        ("10-18", "the time it opens and the time it closes"),
        ("Tue", "the time it opens and the time it closes"),
        ("Tue 25-26", "no time of the day"),
        ("Tue 10:75-12", "no time of the day"),
        ("Tue 9-12, 11-14", "begins before the first one ends"),
        ("Tue 8-9, 10-11, 12-13", "two spans at most"),
    ],
)
def test_what_cannot_be_read_is_said(written, says):
    with pytest.raises(HoursUnreadable, match=says) as refused:
        read(written)
    assert str(refused.value).endswith(".")
    assert week_of(written) == Week()


def at(*moment):
    return datetime(*moment, tzinfo=ZoneInfo("Europe/Berlin"))


@pytest.mark.parametrize(
    ("week", "now", "open_words", "collect_words"),
    [
        (USUAL, at(2026, 11, 25, 12), "Open today until 18:00.", "You can collect it today until 18:00."),
        (USUAL, at(2026, 11, 25, 9), "Opens today at 10:00.", "You can collect it from today, 10:00."),
        (USUAL, at(2026, 11, 25, 18), "Closed now. Open tomorrow from 10:00.",
         "You can collect it from tomorrow, 10:00."),
        (USUAL, at(2026, 11, 28, 14), "Closed now. Open Tue from 10:00.", "You can collect it from Tue, 10:00."),
        (SPLIT, at(2026, 11, 25, 13), "Opens today at 14:00.", "You can collect it from today, 14:00."),
        (SPLIT, at(2026, 11, 25, 12, 29), "Open today until 12:30.", "You can collect it today until 12:30."),
        (read("Mon 9-10"), at(2026, 11, 30, 11), "Closed now. Open Mon 7 Dec from 09:00.",
         "You can collect it from Mon 7 Dec, 09:00."),
        (Week(), at(2026, 11, 25, 12), "", ""),
    ],
)  # fmt: skip
def test_what_a_customer_is_told(week, now, open_words, collect_words):
    assert (open_said(Opening(week), now), collect_said(Opening(week), now)) == (open_words, collect_words)


def test_a_closed_day_closes_whatever_the_week_says():
    holiday = Opening(USUAL, ((date(2026, 11, 25), date(2026, 11, 27), "Stocktaking"),))
    assert open_said(holiday, at(2026, 11, 25, 12)) == "Closed today: Stocktaking. Open again Sat from 10:00."
    assert collect_said(holiday, at(2026, 11, 25, 12)) == "You can collect it from Sat, 10:00."
    assert holiday.open_day(date(2026, 11, 25)) == date(2026, 11, 28)


def test_without_hours_only_closed_days_are_known():
    closed = Opening(Week(), ((date(2026, 11, 25), date(2026, 11, 25), "Rest"),))
    assert [closed.is_shut(date(2026, 11, day)) for day in (25, 26, 29)] == [True, False, False]
    assert open_said(closed, at(2026, 11, 25, 12)) == "Closed today: Rest."


def test_closed_for_good_is_no_endless_search():
    assert Opening(USUAL, ((date(2026, 1, 1), date(2030, 1, 1), "Gone"),)).open_day(date(2026, 11, 25)) is None


@pytest.mark.parametrize(
    ("moment", "says"),
    [
        (at(2026, 3, 29, 3, 30), "Open today until 04:00."),  # the hour from 2 to 3 is not there on this night
        (at(2026, 10, 25, 2, 30), "Open today until 04:00."),  # and on this one it comes twice
        (at(2026, 10, 25, 2, 30).replace(fold=1), "Open today until 04:00."),
    ],
)
def test_the_nights_on_which_the_clock_is_changed(moment, says):
    """The days are those of Directive 2000/84/EC, articles 2 and 3: the last Sundays of March and October."""
    assert open_said(Opening(read("Sun 1-4")), moment) == says
