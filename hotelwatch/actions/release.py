"""Giving rooms back: lift, the word of a firm or an officer, traps, closing a case."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from hotelwatch.actions.cases import answer_in_turn
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import (
    CaseClosed,
    NoticeGiven,
    QuarantineLifted,
    Sighted,
    Sign,
)
from hotelwatch.core.cases.conditions import RELEASE_WORD
from hotelwatch.core.cases.release import check_lifting
from hotelwatch.core.cases.watch import check_closing
from hotelwatch.core.checks.monitors import Monitor, monitors
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, Fact, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes
from hotelwatch.core.treatment_facts import MonitorPlaced, MonitorRead


def lift_quarantine(
    hotel: OpenHotel,
    room: RoomNo,
    case: CaseNo,
    *,
    by: str,
    reason: str = "",
    competence: str = "",
) -> Changes:
    """Give a room back: on its conditions, or on a named person's reason.

    Refusals are those of core.cases.release.check_lifting.
    """
    now = hotel.now()
    lifted = QuarantineLifted(
        room, case, now, by, conditions_met=not reason, reason=reason, competence=competence
    )

    def decide(house: House) -> Sequence[Fact]:
        check_lifting(house, lifted, now)
        return [lifted]

    return hotel.record(decide, action="lift_quarantine", note=reason)


def close_case(hotel: OpenHotel, case: CaseNo, *, by: str, reason: str = "") -> Changes:
    """End the watch of a case: as it is over, or on a named person's reason before.

    Refusals are those of core.cases.watch.check_closing.
    """
    now = hotel.now()
    closed = CaseClosed(case, now, by, conditions_met=not reason, reason=reason)

    def decide(house: House) -> Sequence[Fact]:
        check_closing(house, closed, now)
        return [closed]

    return hotel.record(decide, action="close_case", note=reason)


def note_release_word(hotel: OpenHotel, given: NoticeGiven) -> Changes:
    """Write down that the firm or the officer gave the word to release.

    ``given.to`` is the office or firm that gave it. Refusal("unknown_case"),
    ("word_needs_giver"), ("moment_to_come"), ("room_not_of_case").
    """
    word = replace(given, notice=RELEASE_WORD)
    if not word.to.strip():
        raise Refusal("word_needs_giver", case=word.case)
    if word.given_at > hotel.now():
        raise Refusal("moment_to_come", moment=word.given_at.astimezone(hotel.zone).isoformat())

    def decide(house: House) -> Sequence[Fact]:
        if word.case not in house.sightings:
            raise Refusal("unknown_case", case=word.case)
        closed = {placed.room for placed, _ in house.quarantines_by_case.get(word.case, ())}
        if word.room and word.room not in closed:
            raise Refusal("room_not_of_case", room=word.room, case=word.case)
        return [word]

    return hotel.record(decide, action="note_release_word")


# --- traps --------------------------------------------------------------------------------


def place_monitor(hotel: OpenHotel, placed: MonitorPlaced) -> Changes:
    """Write down that a trap was put into a room; one that stood elsewhere has moved.

    Refusal("monitor_needs_label"), ("unknown_room"), ("day_to_come"), ("who_placed_missing").
    """
    _check(hotel, placed.monitor, placed.by, placed.placed_on)

    def decide(house: House) -> Sequence[Fact]:
        if placed.room not in house.rooms:
            raise Refusal("unknown_room", room=placed.room)
        return [placed]

    return hotel.record(decide, action="place_monitor")


def take_monitor(hotel: OpenHotel, monitor: str, *, on: date, by: str) -> Changes:
    """Write down that a trap was taken away.

    Refusal("unknown_monitor") where no such trap stands anywhere, ("day_to_come"),
    ("who_placed_missing"), ("read_before_placed").
    """
    _check(hotel, monitor, by, on)

    def decide(house: House) -> Sequence[Fact]:
        here = _standing(house, monitor, on)
        return [MonitorPlaced(monitor, here.room, here.where, on, by, is_there=False)]

    return hotel.record(decide, action="take_monitor")


def read_monitor(hotel: OpenHotel, read: MonitorRead) -> Changes:
    """Write down that somebody looked into a trap; a catch is a sighting at once.

    What was caught is for a competent person to judge; the room is closed meanwhile.
    ``read.room`` may be empty: where the trap stands. Refusal("unknown_monitor"),
    ("day_to_come"), ("who_placed_missing"), ("read_before_placed").
    """
    _check(hotel, read.monitor, read.by, read.read_on)

    def decide(house: House) -> Sequence[Fact]:
        here = _standing(house, read.monitor, read.read_on)
        told = replace(read, room=here.room)
        if not told.caught:
            return [told]
        return [told, *answer_in_turn(hotel, house, [_catch(hotel, told, here)])]

    return hotel.record(decide, action="read_monitor")


def _catch(hotel: OpenHotel, read: MonitorRead, here: Monitor) -> Sighted:
    """A catch as a sighting: of now where it was read today, else of that day's end."""
    now = hotel.now()
    at = now
    if local_day(now, hotel.zone) != read.read_on:
        local = now.astimezone(hotel.zone)
        at = local.replace(year=read.read_on.year, month=read.read_on.month, day=read.read_on.day)
    return Sighted(
        case=CaseNo(""),
        room=here.room,
        bed="",
        place="",
        sign=Sign.LIVE_INSECT,
        count=read.caught,
        seen_by=read.by,
        seen_at=at,
        noted=" ".join(part for part in (read.monitor, read.noted) if part),
    )


def _standing(house: House, monitor: str, on: date) -> Monitor:
    found = [one for one in monitors(house) if one.monitor == monitor and one.is_there]
    if not found:
        raise Refusal("unknown_monitor", monitor=monitor)
    if on < found[0].placed_on:
        raise Refusal("read_before_placed", monitor=monitor)
    return found[0]


def _check(hotel: OpenHotel, monitor: str, by: str, day: date) -> None:
    if not monitor.strip():
        raise Refusal("monitor_needs_label")
    if not by.strip():
        raise Refusal("who_placed_missing", monitor=monitor)
    if day > hotel.today():
        raise Refusal("day_to_come", day=day.isoformat())
