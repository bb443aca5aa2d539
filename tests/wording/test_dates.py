from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import pytest

from hotelwatch.wording import language
from hotelwatch.wording.dates import (
    clock_text,
    day_text,
    days_text,
    minutes_text,
    moment_text,
    month_text,
    short_day_text,
    weekday_short,
    weekdays_text,
)


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def test_a_day_is_said_day_first_with_its_weekday():
    # The weekday by the calendar itself: 25 November 2026 is ISO week day 3.
    assert date(2026, 11, 25).isoweekday() == 3
    assert day_text(date(2026, 11, 25)) == "Wed 25 Nov 2026"
    assert short_day_text(date(2026, 11, 5)) == "Thu 5 Nov"


def test_a_month_is_said_in_full():
    assert month_text("2026-11") == "November 2026"


def test_a_moment_is_told_by_the_hotel_s_clock_across_a_clock_change():
    # IANA zone Europe/Vienna, 29 Mar 2026: at 01:00 UTC clocks go from 02:00 to 03:00.
    before, after = datetime(2026, 3, 29, 0, 59, tzinfo=UTC), datetime(2026, 3, 29, 1, tzinfo=UTC)
    assert moment_text(before, "Europe/Vienna") == "Sun 29 Mar 2026, 01:59 CET"
    assert moment_text(after, ZoneInfo("Europe/Vienna")) == "Sun 29 Mar 2026, 03:00 CEST"
    assert clock_text(after, "Europe/Vienna") == "03:00"


def test_a_moment_may_fall_on_another_day_in_the_hotel():
    late = datetime(2026, 1, 5, 23, 30, tzinfo=UTC)
    assert moment_text(late, "Asia/Tokyo") == "Tue 6 Jan 2026, 08:30 JST"


@pytest.mark.parametrize(
    ("minutes", "said"), [(0, "0 min"), (45, "45 min"), (60, "1 h"), (125, "2 h 5 min")]
)
def test_minutes_are_said_in_hours_where_they_fill_them(minutes, said):
    assert minutes_text(minutes) == said


@pytest.mark.parametrize(("days", "said"), [(0, "0 days"), (1, "1 day"), (91, "91 days")])
def test_days_are_counted(days, said):
    assert days_text(days) == said


def test_a_made_up_language_still_has_english_days():
    language.use(language.PSEUDO)
    assert day_text(date(2026, 11, 25)) == "Wed 25 Nov 2026"


@pytest.mark.parametrize(
    ("codes", "said"),
    [
        ("mon tue wed thu fri", "Mon to Fri"),
        ("mon tue wed thu sat", "Mon to Thu, Sat"),
        ("sat sun", "Sat, Sun"),
        ("mon tue fri sat sun", "Mon, Tue, Fri to Sun"),
        ("", ""),
    ],
)
def test_weekdays_in_a_row_are_told_by_the_first_and_the_last(codes, said):
    assert weekdays_text(codes.split()) == said


def test_a_weekday_is_short_as_a_calendars_head_has_it():
    # Unicode CLDR, English, abbreviated days of the week.
    said = [weekday_short(code) for code in ("mon", "tue", "wed", "thu", "fri", "sat", "sun")]
    assert said == ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"]
