"""When the backlog is worked off: by hand, and held against a simulation written otherwise."""

from __future__ import annotations

from datetime import timedelta

import pytest

from hotelwatch.core.facts import CycleChosen, RoundPublished, Scope, SlotPublished, TeamName
from hotelwatch.core.rounds.backlog import backlog
from tests.build import day, house

TODAY = 56
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def inn(looked_on, *, cycle=60, late=()):
    """A team of every day; one room a bed, looked at on these days; ``late`` long before."""
    built = house().record(CycleChosen(Scope.HOUSE, "", cycle)).team("blue", 60, works_on=EVERY_DAY)
    for n, looked in enumerate((*looked_on, *late)):
        built.room(f"{101 + n}").bed("A").checked("A", day(looked))
    return built.on(TODAY)


def test_so_many_late_beds_at_one_a_day_take_so_many_days():
    # 28 beds in the last 28 days: one a day. Ten are late, nothing else is due for weeks.
    built = inn(range(TODAY - 28, TODAY), late=[-50] * 10)
    told = backlog(built.house, day(TODAY))
    assert (told.overdue_beds, told.looked_at, told.minutes) == (10, 28, 28 * 60)
    # One on each of days 56 to 65, so that day 66 begins with none overdue.
    assert told.caught_up_on == day(TODAY + 10)
    assert told.wanted == 18  # 38 beds × 28 / 60 days, rounded up


def test_without_a_late_bed_it_is_today():
    told = backlog(inn(range(TODAY - 28, TODAY)).house, day(TODAY))
    assert (told.overdue_beds, told.caught_up_on, told.late_again_on) == (0, day(TODAY), None)


def test_nobody_looking_never_catches_up():
    told = backlog(inn([], late=[-50] * 3).house, day(TODAY))
    assert (told.looked_at, told.caught_up_on) == (0, None)


def test_too_slow_a_pace_never_catches_up():
    # One bed in 28 days, while twelve beds of a 10-day cycle ask for 34.
    told = backlog(inn([TODAY - 3], cycle=10, late=range(0, 11)).house, day(TODAY))
    assert (told.looked_at, told.wanted) == (1, 34)
    assert told.caught_up_on is None


def test_published_sheets_count_as_they_stand():
    built = inn(range(TODAY - 28, TODAY), late=[-50] * 10)
    rooms = [f"{101 + 28 + n}" for n in range(10)]
    slots = [
        SlotPublished(day(TODAY), TeamName("blue"), n, room, (f"{room}/A",), 20)
        for n, room in enumerate(rooms, 1)
    ]
    built.record(RoundPublished(day(TODAY), day(TODAY)), *slots)
    assert backlog(built.house, day(TODAY)).caught_up_on == day(TODAY + 1)


@pytest.mark.parametrize(("late", "cycle"), [(3, 40), (12, 45), (20, 60), (25, 90)])
def test_the_same_day_as_by_counting_bed_by_bed(late, cycle):
    built = inn(range(TODAY - 28, TODAY), cycle=cycle, late=[-100] * late)
    told = backlog(built.house, day(TODAY))
    last = [*range(TODAY - 28, TODAY), *[-100] * late]
    first_clean = None
    for now in range(TODAY, TODAY + 366):
        overdue = [looked for looked in last if now - looked > cycle]
        if not overdue:
            first_clean = now
            break
        # One bed a day, the longest ago first; a list in place of a queue.
        last[last.index(min(last))] = now
    assert told.caught_up_on == (None if first_clean is None else day(first_clean))
    assert timedelta(0) <= told.caught_up_on - day(TODAY)


def test_what_was_looked_at_today_is_part_of_what_the_pace_allows_today():
    """Ten late beds at one a day; one of them was looked at this morning: no day is gained."""
    built = inn(range(TODAY - 28, TODAY), late=[-50] * 10)
    built.room("138", order=38).checked("A", day(TODAY))
    assert backlog(built.house, day(TODAY)).caught_up_on == day(TODAY + 10)


def test_a_few_days_without_an_overdue_bed_are_not_called_caught_up():
    """Ten beds of a 5-day cycle, all looked at yesterday: on day 5 the first is late again."""
    told = backlog(inn([TODAY - 1] * 10, cycle=5).house, day(TODAY))
    assert (told.overdue_beds, told.caught_up_on) == (0, None)
    assert backlog(inn([TODAY - 1] * 10, cycle=7).house, day(TODAY)).caught_up_on == day(TODAY)
