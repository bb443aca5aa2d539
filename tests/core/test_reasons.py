"""Why not and what would mend it, from a house to its sums; worked by hand."""

from __future__ import annotations

import pytest

from hotelwatch.core.case_facts import CheckAsked, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.facts import (
    CaseNo,
    CycleChosen,
    HotelDescribed,
    RoomNo,
    RoundPublished,
    Scope,
    SlotPublished,
    TeamDescribed,
    TeamName,
)
from hotelwatch.core.planning.planner import plan_rounds
from hotelwatch.core.planning.reasons import reasons
from hotelwatch.core.planning.repairs import Mend
from hotelwatch.core.planning.shortfall import Binds
from hotelwatch.core.round_facts import (
    CheckPinned,
    DayForbidden,
    HouseDaysClosed,
    NightAnswered,
    NightAsked,
    SeasonNoted,
    TeamDaysChanged,
    VisitArranged,
)
from hotelwatch.core.rounds.plan import WhyNot, Wish
from hotelwatch.core.stays.openings import occupancy
from hotelwatch.wording.late_before import told_together
from hotelwatch.wording.repairs import repair_sentence
from hotelwatch.wording.shortfalls import shortfall_sentence
from tests.build import day, house, moment

DAYS = 14
CASE = CaseNo("2026-001")
WISH = Wish(day(0), 20, moment(0))
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def told(built, days=DAYS):
    return reasons(built.house, occupancy(built.house, day(0)), Wish(day(0), days, moment(0)))


def due(built, *rooms, on, kind="box_spring"):
    for room in rooms:
        built.room(room).bed("A", kind).checked("A", day(on - 91))
    return built


def bed_for(people):
    """A kind of bed that needs so many people."""
    kinds = house().house.rules.bed_kinds
    return next(code for code, kind in kinds.items() if kind.people == people)


def binds(found):
    return {(one.binds, *one.rooms) for one in found.shortfalls}


def test_a_room_in_quarantine_is_told_as_such():
    built = due(house().team("blue", works_on=EVERY_DAY), "101", on=5)
    built.record(QuarantinePlaced(RoomNo("101"), CaseNo("2026-001"), moment(0, 1), "sighting"))
    (one,) = told(built).shortfalls
    assert (one.binds, one.rooms, one.until_on) == (Binds.IN_QUARANTINE, ("101",), day(5))
    # Not looked at on days 6 to 13: one bed, eight days overdue as the last begins.
    assert one.overdue_bed_days == 13 - 5


def test_beds_that_need_two_are_no_work_for_one():
    built = house().team("alone", 200, people=1, works_on=EVERY_DAY)
    due(built, "101", on=5, kind=bed_for(1))
    due(built, "102", on=5, kind=bed_for(2))
    assert binds(told(built)) == {(Binds.NO_TEAM, "102")}


def test_a_pair_that_comes_too_late_is_told_as_no_team_until_then():
    built = house().team("alone", 200, people=1, works_on=EVERY_DAY)
    built.team("pair", 200, works_on=("wed",))
    due(built, "101", on=1, kind=bed_for(2))
    (one,) = told(built).shortfalls
    assert (one.binds, one.opens_on, one.overdue_bed_days) == (Binds.NO_TEAM, day(2), 1)


def test_a_pin_beyond_the_due_day_is_told_as_what_is_in_the_way():
    built = due(house().team("blue", works_on=EVERY_DAY), "101", on=3)
    built.record(CheckPinned(RoomNo("101"), day(8)))
    (one,) = told(built).shortfalls
    assert (one.binds, one.opens_on, one.overdue_bed_days) == (Binds.PINNED, day(8), 5)


def test_a_day_off_on_which_rooms_stand_empty_is_asked_for():
    # Weekdays only; six rooms of 20 minutes are empty from Friday on and due on Sunday.
    built = house().team("blue", 100)
    rooms = [f"10{n}" for n in range(1, 7)]
    due(built, *rooms, on=6).stays(*((room, -3, 4) for room in rooms))
    found = told(built)
    (one,) = found.shortfalls
    assert (one.binds, one.needed, one.minutes, one.days) == (Binds.MINUTES, 120, 100, (day(4),))
    days = next(repair for repair in found.repairs if repair.mend is Mend.TEAM_DAYS)
    assert (days.team, days.days, days.minutes) == ("blue", (day(5),), 100)
    assert (days.before.short, days.after.short) == (20, 0)


def test_a_room_empty_on_days_off_alone_is_told_as_such_and_not_as_let():
    """Let but for Wednesday, on which no team works: no guest is in the way."""
    built = due(house().team("blue", 200, works_on=("mon", "tue", "thu", "fri")), "101", on=4)
    built.stays(("101", -3, 2), ("101", 2, 13))
    (one,) = told(built).shortfalls
    assert (one.binds, one.days, one.opens_on) == (Binds.NO_TEAM, (day(2),), None)
    assert one.overdue_bed_days == 13 - 4


def test_a_room_that_opens_outside_every_shift_is_told_as_such_and_not_as_let():
    """Rooms change hands from 11:00 to 15:00 on Wednesday; the team goes home at 10:00."""
    hours = HotelDescribed("House of tests", "Europe/Vienna", leave_by="11:00", arrive_from="15:00")
    early = TeamDescribed(
        TeamName("early"), 2, 200, EVERY_DAY, from_clock="06:00", until_clock="10:00"
    )
    built = due(house().record(hours, early), "101", on=4)
    built.stays(("101", -3, 2), ("101", 2, 13))
    (one,) = told(built).shortfalls
    assert (one.binds, one.days, one.opens_on) == (Binds.OUTSIDE_SHIFTS, (day(2),), None)
    let = due(house().record(hours, early), "101", on=4).stays(("101", -3, 13))
    (one,) = told(let).shortfalls
    assert (one.binds, one.days) == (Binds.NO_OPENING, ())


def test_a_room_whose_days_are_forbidden_by_hand_is_told_as_such_and_not_as_let():
    built = due(house().team("blue", 200, works_on=EVERY_DAY), "101", on=4)
    built.stays(("101", -3, 2), ("101", 3, 13))
    # Vacant from day 2 to day 3.
    built.record(*(DayForbidden(RoomNo("101"), day(n)) for n in (2, 3)))
    (one,) = told(built).shortfalls
    assert (one.binds, one.days) == (Binds.FORBIDDEN, (day(2), day(3)))


def test_a_night_before_a_long_stay_is_asked_for_and_its_saving_worked_out():
    # 101 is due on day 7 and let without a break: until day 4, then until day 30.
    built = due(house().team("blue", 100, works_on=EVERY_DAY), "101", on=7)
    built.stays(("101", -9, 3), ("101", 3, 4), ("101", 4, 30))
    assert told(built).shortfalls == ()
    closed = due(house().team("blue", 100, works_on=("thu",)), "101", on=7)
    closed.stays(("101", -9, 2), ("101", 2, 30))
    found = told(closed)
    (one,) = found.shortfalls
    assert (one.binds, one.opens_on, one.overdue_bed_days) == (Binds.NO_TEAM, None, 6)
    more, kept = found.repairs
    # It stands empty on Wednesday, day 2, on which the team could come.
    assert (more.mend, more.days, more.saved_bed_days) == (Mend.TEAM_DAYS, (day(2),), 6)
    # Were the guest of day 2 put up elsewhere for a night, Thursday, day 3, would do.
    assert (kept.mend, kept.rooms, kept.nights) == (Mend.KEEP_FREE, ("101",), (day(2),))
    assert kept.each_saves == (6,)


def test_no_day_more_is_advised_while_the_house_is_closed():
    """Two rooms let but for Tuesday, due on Wednesday; the team works on Monday and Thursday."""
    built = due(house().team("blue", 60, works_on=("mon", "thu")), "101", "102", on=2)
    built.stays(*((room, *span) for room in ("101", "102") for span in ((-5, 1), (1, 20))))
    assert [one.mend for one in told(built).repairs] == [Mend.TEAM_DAYS]
    built.record(HouseDaysClosed(day(1), day(1), "holiday"))
    found = told(built)
    assert binds(found) == {(Binds.HOUSE_CLOSED, "101"), (Binds.HOUSE_CLOSED, "102")}
    assert {one.days for one in found.shortfalls} == {(day(1),)}
    assert Mend.TEAM_DAYS not in {one.mend for one in found.repairs}


def test_a_room_that_opens_while_the_house_is_closed_is_not_laid_to_the_teams():
    """Let but for Tuesday, due on Wednesday; there are no rounds on that Tuesday."""
    built = due(house().team("blue", 60, works_on=EVERY_DAY), "101", on=2)
    built.stays(("101", -5, 1), ("101", 1, 20))
    assert told(built).shortfalls == ()
    built.record(HouseDaysClosed(day(1), day(1), "Lantern day"))
    (one,) = told(built).shortfalls
    assert shortfall_sentence(one).startswith(
        "Room 101 is due by Wed 7 Jan, but while it can be entered the house has no rounds:"
        " Lantern day. It can be entered on Tue 6 Jan."
    )
    assert shortfall_sentence(one).endswith(
        "Make rounds on one of these days after all, or accept it."
    )
    due(built, "102", on=2).stays(("102", -5, 1), ("102", 1, 20))
    ((said, _some),) = told_together(told(built).shortfalls)
    assert said.startswith(
        "2 rooms can be entered by their due day, but only while the house has no rounds"
        " (Tue 6 Jan: Lantern day)."
    )


def test_a_team_off_on_another_day_still_counts_beside_a_closed_one():
    """As above, but it stands empty on Sunday too, before a guest comes; nobody works then."""
    built = due(house().team("blue", 60, works_on=("mon", "tue", "fri")), "101", on=6)
    built.stays(("101", -5, 1), ("101", 1, 6), ("101", 6, 20))
    built.record(HouseDaysClosed(day(1), day(1), "Lantern day"))
    (one,) = told(built).shortfalls
    assert (one.binds, one.days) == (Binds.NO_TEAM, (day(1), day(6)))


def tuesday_alone(*others):
    """Two rooms let but for Tuesday, due on Wednesday; blue works then, but is ill."""
    built = house(corridor_minutes=0).team("blue", 60, works_on=("mon", "tue", "thu"))
    for team in others:
        built.team(team, 60, works_on=("mon", "thu"))
    due(built, "101", "102", on=2)
    built.stays(*((room, *span) for room in ("101", "102") for span in ((-5, 1), (1, 20))))
    return built.record(TeamDaysChanged(TeamName("blue"), day(1), day(1), 0, "ill"))


def test_a_team_that_is_off_is_asked_for_a_day_before_one_that_is_ill():
    (more,) = (one for one in told(tuesday_alone("red")).repairs if one.mend is Mend.TEAM_DAYS)
    assert (more.team, more.days, more.away) == ("red", (day(1),), ())


def test_where_a_team_that_is_ill_alone_could_help_the_repair_says_so():
    (more,) = (one for one in told(tuesday_alone()).repairs if one.mend is Mend.TEAM_DAYS)
    assert (more.team, more.days, more.away) == ("blue", (day(1),), ((day(1), "ill"),))
    assert repair_sentence(more).startswith(
        "One more day of blue, or of a team like it, 60 minutes: Tue 6 Jan. blue is away on"
        " Tue 6 Jan: ill."
    )


def test_a_day_more_entered_as_told_does_what_it_says():
    """Two rooms of 20 minutes let but for Tuesday; the team keeps 20 of its 60 minutes free."""
    built = house(corridor_minutes=0).team("blue", 60, works_on=("mon", "thu"), kept_free=20)
    due(built, "101", "102", on=2)
    built.stays(*((room, *span) for room in ("101", "102") for span in ((-5, 1), (1, 20))))
    more = next(one for one in told(built).repairs if one.mend is Mend.TEAM_DAYS)
    assert (more.days, more.minutes, more.effort) == ((day(1),), 60, 40)
    assert (more.before.bed_days, more.after.bed_days) == (2 * 11, 0)
    built.record(TeamDaysChanged(more.team, day(1), day(1), more.minutes))
    assert told(built).late.total == 0


def to_keep_free():
    """101, due on day 7: the guest of day 2 would have to be elsewhere for one night."""
    built = due(house().team("blue", 100, works_on=("thu",)), "101", on=7)
    return built.stays(("101", -9, 2), ("101", 2, 30))


def kept_free(built):
    return [(*one.rooms, *one.nights) for one in told(built).repairs if one.mend is Mend.KEEP_FREE]


def test_a_night_that_front_desk_was_asked_for_is_not_asked_for_again():
    built = to_keep_free()
    assert kept_free(built) == [("101", day(2))]
    built.record(NightAsked(RoomNo("101"), day(2), "late otherwise"))
    assert kept_free(built) == []
    for is_kept in (True, False):
        built.record(NightAnswered(RoomNo("101"), day(2), is_kept, "desk"))
        assert kept_free(built) == []
    # Whoever withdraws it has it advised again.
    built.record(NightAsked(RoomNo("101"), day(2), "late otherwise", holds=False))
    assert kept_free(built) == [("101", day(2))]


def test_no_night_is_asked_for_before_a_day_forbidden_by_hand():
    built = to_keep_free().record(DayForbidden(RoomNo("101"), day(3)))
    assert kept_free(built) == []


def test_a_guest_who_agreed_to_a_later_look_is_told_and_not_asked_again():
    built = due(house().team("blue", 200, works_on=EVERY_DAY), "101", on=2)
    built.stays(("101", -9, 30))
    assert binds(told(built)) == {(Binds.NO_OPENING, "101")}
    built.record(VisitArranged(RoomNo("101"), day(4), "10:00", "11:30", "esther"))
    (one,) = told(built).shortfalls
    assert (one.binds, one.opens_on, one.overdue_bed_days) == (Binds.AGREED_LATER, day(4), 2)
    built.record(VisitArranged(RoomNo("101"), day(1), "10:00", "11:30", "esther"))
    assert told(built).shortfalls == ()


def test_the_load_counts_each_corridor_once_in_its_shortest_cycle():
    built = house(cycle_days=100, corridor_minutes=8).team("blue", 100, works_on=EVERY_DAY)
    due(built, "101", "102", on=20)
    built.room("201", floor="2").bed("A")
    load = told(built).load
    # Three rooms of 6 + 14 minutes and two corridors of 8, once in a hundred days.
    assert load.asked_a_day == pytest.approx(3 * 20 / 100)
    assert load.ways_a_day == pytest.approx(2 * 8 / 100)
    assert load.had_a_day == 100
    assert load.least_stretch == pytest.approx(0.76 / 100)
    assert not load.is_too_much


def test_seasons_make_cycles_ask_for_more_while_they_last():
    built = due(house().team("blue", works_on=EVERY_DAY), "101", on=5)
    assert told(built).load.faster == 1
    # Half as fast again on 7 of 14 days; where two meet, on 2 days, what they add adds up.
    built.record(
        SeasonNoted("Fair", day(7), day(20), 50), SeasonNoted("Ball", day(12), day(13), 20)
    )
    assert told(built).load.faster == pytest.approx((7 + 5 * 1.5 + 2 * 1.7) / 14)


@pytest.mark.parametrize("minutes", [40, 50])
def test_what_fitted_this_morning_is_not_called_too_long_nor_without_a_team(minutes):
    """Two rooms of 20 minutes are done; the third one can be entered today alone."""
    built = house(corridor_minutes=0).team("blue", minutes, works_on=EVERY_DAY)
    due(built, "101", "102", "103", on=0).stays(("103", 1, 60))
    slots = [
        SlotPublished(day(0), TeamName("blue"), n, RoomNo(room), (f"{room}/A",), 20)
        for n, room in enumerate(("101", "102"), 1)
    ]
    built.record(RoundPublished(day(0), day(0)), *slots)
    for order, room in enumerate(("101", "102"), 1):
        built.room(room, order=order).checked("A", day(0))
    (one,) = told(built).shortfalls
    assert (one.binds, one.rooms) == (Binds.SPENT_TODAY, ("103",))
    assert (one.days, one.needed) == ((day(0),), 20)


def test_without_shifts_an_opening_has_to_be_long_enough_all_the_same():
    built = due(house(corridor_minutes=0).team("blue", 60, works_on=EVERY_DAY), "101", on=3)
    built.stays(("101", -2, 60)).record(VisitArranged(RoomNo("101"), day(2), "10:00", "10:10", "a"))
    assert binds(told(built)) == {(Binds.HOURS_TOO_SHORT, "101")}
    (left,) = plan_rounds(built.house, occupancy(built.house, day(0)), WISH).left_out
    assert left.why is WhyNot.HOURS_TOO_SHORT


def test_a_room_open_only_soon_after_its_last_look_is_told_as_such_and_not_as_let():
    """Looked at today, due on day 14; a quarter of a fortnight has to go by: four days."""
    built = house().team("blue", works_on=EVERY_DAY).record(CycleChosen(Scope.HOUSE, "", 14))
    built.room("101").bed("A").checked("A", day(0)).stays(("101", 3, 60))
    (one,) = told(built, 20).shortfalls
    assert (one.binds, one.days) == (Binds.TOO_EARLY, (day(1), day(2), day(3)))
    (left,) = plan_rounds(built.house, occupancy(built.house, day(0)), WISH).left_out
    assert left.why is WhyNot.TOO_EARLY


def test_what_a_case_asks_for_is_never_too_early():
    built = due(house().team("blue", works_on=EVERY_DAY), "101", on=60).stays(("101", -2, 60))
    built.record(
        Sighted(CASE, RoomNo("101"), "", "seats", Sign.DARK_SPOTS, 0, "anna", moment(0, 1)),
        CheckAsked(CASE, RoomNo("101"), ("sighting",), moment(3)),
    )
    assert binds(told(built)) == {(Binds.NO_OPENING, "101")}


def test_no_day_more_is_asked_of_a_shift_that_meets_no_opening():
    """On Saturday the guest leaves at 11:00; the pair's shift ends at 10:30."""
    built = house(corridor_minutes=0).record(HotelDescribed("House", "UTC", leave_by="11:00"))
    built.team("pair", 60, until_clock="10:30")
    due(built, "101", on=5).stays(("101", -3, 5), ("101", 5, 60))
    assert Mend.TEAM_DAYS not in {repair.mend for repair in told(built).repairs}
    built.team("pair", 60, until_clock="11:30")
    (days,) = (one.days for one in told(built).repairs if one.mend is Mend.TEAM_DAYS)
    assert days == (day(5),)


def test_neither_a_day_nor_a_night_is_asked_for_a_room_pinned_beyond_the_plan():
    built = due(house().team("blue", works_on=("mon",)), "101", on=3).stays(("101", 3, 9))
    built.record(CheckPinned(RoomNo("101"), day(28)))
    found = told(built)
    assert binds(found) == {(Binds.PINNED, "101")}
    assert not {Mend.TEAM_DAYS, Mend.KEEP_FREE} & {one.mend for one in found.repairs}


def test_a_room_pinned_beyond_the_plan_is_no_matter_of_today_s_minutes():
    built = due(house().team("blue", 200, works_on=EVERY_DAY), "101", on=0)
    built.stays(("101", 1, 20)).record(CheckPinned(RoomNo("101"), day(25)))
    assert binds(told(built)) == {(Binds.PINNED, "101")}
