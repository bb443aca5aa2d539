from __future__ import annotations

from hotelwatch.core.checks.slots import SlotRow, SlotState, next_to_do
from tests.build import day


def row(room, team="Early", state=SlotState.TO_DO):
    return SlotRow(day(0), team, 1, room, (), 10, "", None, None, state)


def after(room, *rows):
    found = next_to_do(rows, room)
    return found.room if found else None


def test_the_next_room_is_the_next_on_the_way_that_is_still_to_do():
    rows = (row("101"), row("102", state=SlotState.LOOKED_AT), row("103"))
    assert after("101", *rows) == "103"
    assert after("", *rows) == "101"


def test_behind_the_last_room_one_begins_at_the_front_again():
    assert after("103", row("101"), row("102"), row("103", state=SlotState.WITH_GAPS)) == "101"


def test_a_team_finishes_its_own_sheet_first():
    rows = (row("101"), row("102", state=SlotState.LOOKED_AT), row("201", "Late"))
    assert after("102", *rows) == "101"
    done = (row("101", state=SlotState.LOOKED_AT), row("102", state=SlotState.LOOKED_AT))
    assert after("102", *done, row("201", "Late")) == "201"


def test_rooms_that_cannot_be_entered_are_passed_over():
    rows = (row("101"), row("102", state=SlotState.GUEST_STAYS))
    assert after("101", row("101", state=SlotState.LOOKED_AT), rows[1]) is None
    assert after("101", *rows, row("103", state=SlotState.IN_QUARANTINE)) == "101"
