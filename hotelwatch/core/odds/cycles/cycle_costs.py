"""What a room's year has and costs under a cycle: work, covers and traps, what finds bring."""

from __future__ import annotations

from dataclasses import dataclass

from hotelwatch.core.odds.cycles.cycle_rows import Circumstances, Detection, Finder, RoomYear
from hotelwatch.core.odds.cycles.cycle_ways import CheckWay, UsualRoom
from hotelwatch.core.odds.settings import DAYS_A_YEAR, Setting
from hotelwatch.core.odds_figures import OddsRules, Stance

HOUR_MINUTES = 60.0


@dataclass(frozen=True, slots=True)
class Practice:
    """How a hotel looks at a mean room, and what holds there whatever its cycle."""

    rules: OddsRules
    way: CheckWay
    room: UsualRoom
    around: Circumstances


def room_year(
    practice: Practice, setting: Setting, seen: Detection, *, cycle_days: int, spread: float
) -> RoomYear:
    """One room's mean year; ``spread`` neighbours go with each infestation.

    Rooms that spread reaches count as seen like those in which it came in. How often it
    comes in does not hang on the cycle; that it comes back from rooms missed is left out.
    """
    figures, stance = practice.rules.figures, setting.stance
    introductions = introductions_a_year(practice, setting)
    infested = introductions * (1.0 + spread)
    finds = infested * (1.0 - seen.first[Finder.NOBODY])
    guest_finds = infested * seen.first[Finder.GUEST]
    closed = finds * figures.nights_lost_by_find.of(stance)
    hours = work_hours(practice, stance, cycle_days)
    after_finds = (
        finds * figures.price_treatment.of(stance)
        + closed * figures.price_room_night.of(stance)
        + guest_finds * figures.price_guest_find.of(stance)
    )
    return RoomYear(
        introductions=introductions,
        spread_on=spread,
        infested_days=infested * seen.mean_days,
        finds=finds,
        guest_finds=guest_finds,
        nights_closed=closed,
        hours=hours,
        work=hours * figures.price_work_hour.of(stance),
        material=_material(practice, stance),
        after_finds=after_finds,
    )


def introductions_a_year(practice: Practice, setting: Setting) -> float:
    """Introductions that take hold in a room in a year, by how many nights are let."""
    usual = practice.rules.figures.usual_let_share.of(setting.stance)
    stays = setting.stays_per_day * DAYS_A_YEAR * practice.around.let_share / usual
    return setting.introductions_per_stay * stays


def check_work(practice: Practice, stance: Stance) -> float:
    """Minutes of one person for one check of the room, with everything that its way takes."""
    figures, room, way = practice.rules.figures, practice.room, practice.way
    looking = room.encased_work if way.encased else room.beds_work
    extra = 0.0
    if way.cover_opened and not way.encased:
        extra += room.covers * figures.extra_minutes_cover.of(stance)
    if way.headboard_off:
        extra += room.headboards * figures.extra_minutes_headboard.of(stance)
    return room.setup_work + looking * way.longer + extra * room.people


def work_hours(practice: Practice, stance: Stance, cycle_days: int) -> float:
    """Hours of one person that a room takes in a year: checks, and readings of traps."""
    minutes = check_work(practice, stance) * DAYS_A_YEAR / cycle_days
    if practice.way.traps:
        readings = DAYS_A_YEAR / practice.around.traps_every_days
        minutes += readings * practice.rules.figures.minutes_read_traps.of(stance)
    return minutes / HOUR_MINUTES


def _material(practice: Practice, stance: Stance) -> float:
    figures, room, way = practice.rules.figures, practice.room, practice.way
    encased = room.beds if way.encased else room.encased_beds
    traps = figures.price_traps.of(stance) if way.traps else 0.0
    return encased * figures.price_encasing.of(stance) + traps
