"""The hotel and its choices: start its file, its cycles, its teams, its wings and stairs."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from math import inf
from pathlib import Path

from hotelwatch.actions.open_hotel import OpenHotel, known_zone
from hotelwatch.core.building.carrying import carried
from hotelwatch.core.checks.cycles import PLACED, risk_of
from hotelwatch.core.clock_text import clock_said
from hotelwatch.core.days import WEEKDAYS
from hotelwatch.core.facts import (
    CycleChosen,
    Fact,
    FloorPlaced,
    HotelDescribed,
    MonthClosed,
    Risk,
    RiskPlaced,
    RoomNo,
    Scope,
    TeamDescribed,
    WingPlaced,
)
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Rules
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes
from hotelwatch.core.round_facts import StairPlaced
from hotelwatch.core.stays.openings import DAY_ENDS, DAY_STARTS
from hotelwatch.store import hotel_file
from hotelwatch.wording import language

PAPERS = ("A4", "Letter")
LONGEST_CYCLE = 730
LONGEST_TEAM_DAY = 600


def start_hotel(
    path: Path,
    described: HotelDescribed,
    rules: Rules,
    *,
    clock: Callable[[], datetime],
    by: str,
) -> OpenHotel:
    """Make a hotel's file and describe the hotel in it."""
    described = _checked_hotel(described)
    journal = hotel_file.create(path)
    hotel = OpenHotel(journal, House(shipped=rules), clock=clock, by=by)
    hotel.record(lambda _: [described], action="describe_hotel")
    return hotel


def describe_hotel(hotel: OpenHotel, described: HotelDescribed) -> Changes:
    """Change the hotel's name, zone, paper or hours.

    Every day of the record is told by the zone, so that it stays once a month is closed:
    Refusal("zone_of_closed_months").
    """
    described = _checked_hotel(described)

    def decide(house: House) -> Sequence[HotelDescribed]:
        if house.hotel == described:
            return []
        if house.hotel and house.hotel.zone != described.zone and house.all_of(MonthClosed):
            raise Refusal("zone_of_closed_months", zone=house.hotel.zone)
        return [described]

    return hotel.record(decide, action="describe_hotel")


def choose_cycle(hotel: OpenHotel, scope: Scope, which: str, cycle_days: int) -> Changes:
    """Set every how many days an underside is due; 0 takes a choice back."""
    _check_cycle(cycle_days, least=1 if scope is Scope.HOUSE else 0)

    def decide(house: House) -> Sequence[CycleChosen]:
        if scope is Scope.ROOM and which not in house.rooms:
            raise Refusal("unknown_room", room=which)
        types = {room.room_type for room in house.rooms.values()}
        if scope is Scope.ROOM_TYPE and which not in types:
            raise Refusal("unknown_room_type", room_type=which)
        if scope is Scope.RISK and which not in PLACED:
            raise Refusal("unknown_risk", risk=which)
        return [CycleChosen(scope, which, cycle_days)]

    return hotel.record(decide, action="choose_cycle")


def place_risk(
    hotel: OpenHotel, risk: Risk, rooms: Sequence[RoomNo], cycle_days: int = 0
) -> Changes:
    """These rooms, and no others, are of a higher or lower risk; the rest are as usual again.

    ``cycle_days``: what they are due every, in the same entry; 0: as it is. Refusals:
    ("unknown_room", room), ("unknown_risk", risk), ("cycle_out_of_range").
    """
    if risk not in PLACED:
        raise Refusal("unknown_risk", risk=risk)
    _check_cycle(cycle_days, least=0)

    def decide(house: House) -> Sequence[Fact]:
        for room in rooms:
            if room not in house.rooms:
                raise Refusal("unknown_room", room=room)
        wanted = set(rooms)
        gone = [room for room, known in house.risks.items() if known is risk and room not in wanted]
        chosen = CycleChosen(Scope.RISK, risk, cycle_days)
        is_known = cycle_days in (0, house.chosen_cycles.get((Scope.RISK, risk), 0))
        return [
            *(() if is_known else (chosen,)),
            *(RiskPlaced(room, Risk.USUAL) for room in gone),
            *(
                RiskPlaced(room, risk)
                for room in house.rooms
                if room in wanted and risk_of(house, room) is not risk
            ),
        ]

    return hotel.record(decide, action="place_risk")


def _check_cycle(days: int, *, least: int) -> None:
    if not least <= days <= LONGEST_CYCLE:
        raise Refusal("cycle_out_of_range", days=str(days), most=str(LONGEST_CYCLE))


def describe_teams(hotel: OpenHotel, teams: Sequence[TeamDescribed]) -> Changes:
    """Add or change teams; what is the same already is not written again."""
    checked = [_checked_team(team) for team in teams]
    return hotel.record(
        lambda house: [team for team in checked if house.teams.get(team.team) != team],
        action="describe_teams",
    )


def place_wings(
    hotel: OpenHotel, wings: Sequence[WingPlaced], floors: Sequence[FloorPlaced] = ()
) -> Changes:
    """Say where wings start and run, and in which order floors lie; drawn rooms go along."""
    levels = [floor.level for floor in floors]
    if len(levels) != len(set(levels)):
        raise Refusal("two_floors_on_a_level")
    return hotel.record(
        lambda house: [
            *(wing for wing in wings if house.wings.get(wing.wing) != wing),
            *(floor for floor in floors if house.floors.get(floor.floor) != floor.level),
            *carried(house, wings),
        ],
        action="place_wings",
    )


def place_stairs(hotel: OpenHotel, stairs: Sequence[StairPlaced]) -> Changes:
    """Say where stairs and lifts are; what is the same already is not written again.

    Refusal("unknown_wing"), ("stair_needs_name"), ("two_stairs_of_a_name"),
    ("stair_before_wing") or ("unknown_stair") for taking away one that is not there.
    """
    names = [stair.name for stair in stairs]
    for name in names:
        if names.count(name) > 1:
            raise Refusal("two_stairs_of_a_name", stair=name)

    def decide(house: House) -> list[StairPlaced]:
        wings = {room.wing for room in house.rooms.values()}
        for stair in stairs:
            _check_stair(stair, wings, house.stairs)
        return [
            stair for stair in stairs if not stair.in_use or house.stairs.get(stair.name) != stair
        ]

    return hotel.record(decide, action="place_stairs")


def _check_stair(
    stair: StairPlaced, wings: Collection[str], known: Mapping[str, StairPlaced]
) -> None:
    if not stair.name.strip():
        raise Refusal("stair_needs_name")
    if not stair.in_use:
        if stair.name not in known:
            raise Refusal("unknown_stair", stair=stair.name)
        return
    if stair.wing not in wings:
        raise Refusal("unknown_wing", wing=stair.wing, stair=stair.name)
    if not 0 <= stair.along_m < inf:
        raise Refusal("stair_before_wing", stair=stair.name)


def _checked_hotel(described: HotelDescribed) -> HotelDescribed:
    """The description with its clock times as they are kept."""
    if not described.name.strip():
        raise Refusal("hotel_needs_name")
    if described.paper not in PAPERS:
        raise Refusal("unknown_paper", paper=described.paper)
    leave_by, arrive_from = clock_kept(described.leave_by), clock_kept(described.arrive_from)
    if leave_by >= arrive_from:
        raise Refusal("no_time_between_guests")
    known_zone(described.zone)
    return replace(described, leave_by=leave_by, arrive_from=arrive_from)


def span_kept(from_clock: str, until_clock: str) -> tuple[str, str]:
    """Two clock times as they are kept; Refusal unless the first is the earlier one."""
    span = clock_kept(from_clock), clock_kept(until_clock)
    if span[0] >= span[1]:
        raise Refusal("clock_goes_back", from_clock=from_clock, until_clock=until_clock)
    return span


def clock_kept(text: str) -> str:
    """The clock time that was typed, as "11:00". Refusal("unknown_clock_time")."""
    clock = clock_said(text)
    if not clock:
        raise Refusal("unknown_clock_time", clock=text)
    return clock


def _checked_team(team: TeamDescribed) -> TeamDescribed:
    """The team with its clock times as they are kept."""
    if not team.team.strip():
        raise Refusal("team_needs_name")
    if team.people < 1:
        raise Refusal("team_needs_people", team=team.team)
    if not 1 <= team.minutes <= LONGEST_TEAM_DAY:
        raise Refusal("team_minutes_out_of_range", team=team.team, most=str(LONGEST_TEAM_DAY))
    if strange := [day for day in team.works_on if day not in WEEKDAYS]:
        raise Refusal("unknown_weekday", day=", ".join(strange))
    if not 0 <= team.kept_free < team.minutes:
        raise Refusal("kept_free_out_of_range", team=team.team, minutes=str(team.minutes))
    begins, ends = clock_said(team.from_clock), clock_said(team.until_clock)
    span_kept(begins or DAY_STARTS, ends or DAY_ENDS)
    check_language(team.language)
    return replace(team, from_clock=begins, until_clock=ends)


def check_language(code: str) -> None:
    """Raise Refusal("unknown_language") unless sheets can be in it; empty is English."""
    if code and code not in language.available():
        codes = ", ".join(language.available())
        raise Refusal("unknown_language", language=code, codes=codes)


def check_room(house: House, room: RoomNo) -> None:
    """Raise Refusal unless the room is in use."""
    if room not in house.rooms:
        raise Refusal("unknown_room", room=room)
