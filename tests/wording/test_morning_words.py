"""Why today is to be planned again, in words."""

from __future__ import annotations

from hotelwatch.core.rounds.morning import Morning, WaitingRoom
from hotelwatch.wording.plan_calendar import morning_sentence
from tests.build import day

MONDAY = day(7)


def said(*waiting):
    return morning_sentence(Morning(0, (), (), waiting))


def late(room, on):
    return WaitingRoom(room, day(on), is_late=True)


# Day 5 is a Saturday, 10 January 2026, day 6 the Sunday after it.
def test_rooms_that_cases_wanted_before_today_are_late_since_then():
    assert said(late("110", 5), late("208", 5)) == (
        "Cases wanted 110 and 208 looked at by Sat 10 Jan: they are late since then, and no sheet"
        " of today has them. Plan again."
    )
    assert said(late("110", 5), late("208", 6), WaitingRoom("107", MONDAY, is_late=False)) == (
        "A case wanted 110 looked at by Sat 10 Jan: it is late since then, and no sheet of today"
        " has it. A case wanted 208 looked at by Sun 11 Jan: it is late since then, and no sheet"
        " of today has it. A case wants 107 looked at by today, and no sheet of today has it."
        " Plan again."
    )


def test_rooms_that_only_today_will_do_for_say_so():
    tomorrow = WaitingRoom("214", day(8), is_late=False, is_today_last=True)
    assert said(tomorrow) == (
        "A case wants 214 looked at by Tue 13 Jan: after today nobody can be there in time, and no"
        " sheet of today has it. Plan again."
    )
