"""Treatment: firms, orders, visits as reported, logs of probes, papers, care of linen and tools."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import CheckAsked
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CaseNo, Fact, RoomNo
from hotelwatch.core.house import House
from hotelwatch.core.lethal.dose import Method
from hotelwatch.core.lethal.logs import next_log_label, shown_by
from hotelwatch.core.lethal.verdict import LogVerdict
from hotelwatch.core.problems import InputRefused, Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.records import Changes
from hotelwatch.core.treatment_facts import (
    CareDone,
    FirmDescribed,
    ItemDiscarded,
    PaperKept,
    PaperKind,
    ProbeLogKept,
    ProbeRead,
    TreatmentOrdered,
    TreatmentRecorded,
)
from hotelwatch.intake.probe_file import ProbeLog, ProbeMapping, read_probe_log
from hotelwatch.store.kept_files import keep_file

PAPER_ENDINGS = (
    *(".pdf", ".png", ".jpg", ".jpeg", ".webp", ".heic", ".tif", ".tiff"),
    *(".txt", ".csv", ".rtf", ".docx", ".odt", ".xlsx", ".ods", ".eml", ".msg"),
)
"""Files kept as papers: the window opens them with the system, so none may be a program."""


def describe_firm(hotel: OpenHotel, firm: FirmDescribed) -> Changes:
    """Write down a licensed firm, or that it is no longer used.

    Refusal("firm_needs_name"), ("firm_needs_licence").
    """
    if not firm.firm.strip():
        raise Refusal("firm_needs_name")
    if firm.in_use and not firm.licence.strip():
        raise Refusal("firm_needs_licence", firm=firm.firm)
    return hotel.record(lambda _house: [firm], action="describe_firm")


def order_treatment(hotel: OpenHotel, ordered: TreatmentOrdered) -> Changes:
    """Write down a visit ordered from a firm, with what it told the hotel to prepare.

    Refusal("unknown_case"), ("room_not_of_case"), ("order_needs_rooms"),
    ("firm_needs_name").
    """
    if not ordered.rooms:
        raise Refusal("order_needs_rooms")
    if not ordered.firm.strip():
        raise Refusal("firm_needs_name")

    def decide(house: House) -> Sequence[Fact]:
        check_rooms(house, ordered.case, [RoomNo(room) for room in ordered.rooms])
        return [ordered]

    return hotel.record(decide, action="order_treatment")


def record_treatment(
    hotel: OpenHotel, treated: TreatmentRecorded, *, also: Sequence[RoomNo] = ()
) -> Changes:
    """Write down licensed work as the firm reported it, in one room or in several.

    Refusal("treatment_needs"), ("day_to_come"), ("reentry_before_treatment"),
    ("unknown_case"), ("unknown_room"), ("room_not_of_case").
    """
    for field in ("method", "firm", "licence"):
        if not getattr(treated, field).strip():
            raise Refusal("treatment_needs", field=field)
    if treated.treated_on > hotel.today():
        raise Refusal("day_to_come", day=treated.treated_on.isoformat())
    if local_day(treated.reenter_at, hotel.zone) < treated.treated_on:
        raise Refusal("reentry_before_treatment", day=treated.treated_on.isoformat())
    rooms = tuple(dict.fromkeys((treated.room, *also)))

    def decide(house: House) -> Sequence[Fact]:
        check_rooms(house, treated.case, rooms)
        return [replace(treated, room=room) for room in rooms]

    return hotel.record(decide, action="record_treatment")


@dataclass(frozen=True, slots=True)
class LogOfRoom:
    """To which room and day a log belongs, and of what it is."""

    case: CaseNo
    room: RoomNo
    treated_on: date
    method: Method


@dataclass(frozen=True, slots=True)
class LogLookedAt:
    """A log as read, and what it would show."""

    log: ProbeLog
    verdict: LogVerdict | None
    """None where something stands against taking it."""


def look_at_log(
    house: House,
    source: Path,
    *,
    method: Method,
    mapping: ProbeMapping | None = None,
    progress: Progress = silent,
) -> LogLookedAt:
    """Read a log and say what it would show; nothing is written down.

    Refusal with a FileCode where the file is no table. ``progress`` may raise Stopped.
    """
    log = read_probe_log(source, house.zone, mapping=mapping, progress=progress)
    progress(0.8, "")
    return LogLookedAt(log, shown_by(house, log.probes, method) if log.is_good else None)


def keep_probe_log(hotel: OpenHotel, source: Path, log: ProbeLog, of: LogOfRoom) -> str:
    """Keep a log's file and its readings with a case; the log's label.

    InputRefused where something stands against taking it; Refusal("unknown_case"),
    ("room_not_of_case"), ("log_kept_already"), ("no_such_file"), ("paper_too_large").
    """
    if not log.is_good:
        raise InputRefused([problem for problem in log.problems if problem.blocking])
    if of.treated_on > hotel.today():
        raise Refusal("day_to_come", day=of.treated_on.isoformat())
    check_rooms(hotel.house, of.case, [of.room])
    hotel.require(ProbeLogKept, action="keep_probe_log")
    digest = keep_file(hotel.path, source)
    label = ""

    def decide(house: House) -> Sequence[Fact]:
        nonlocal label
        check_rooms(house, of.case, [of.room])
        for row in house.kept_of_case(ProbeLogKept, of.case):
            if (row.fact.sha256, row.fact.room) == (digest, of.room):
                raise Refusal("log_kept_already", log=row.fact.log, room=of.room)
        label = next_log_label(house, of.case)
        kept = ProbeLogKept(
            of.case, of.room, label, of.treated_on, of.method.value, log.file, digest, hotel.by
        )
        readings = (
            ProbeRead(of.case, label, p.name, p.place, p.begins_at, p.minutes, p.celsius)
            for p in log.probes
        )
        return [kept, *readings]

    hotel.record(decide, action="keep_probe_log")
    return label


def keep_paper(hotel: OpenHotel, case: CaseNo, source: Path, *, what: PaperKind) -> PaperKept:
    """Keep a report, a receipt or another paper with a case, the file as it came.

    Refusal("unknown_case"), ("no_such_file"), ("not_a_paper"), ("paper_too_large"),
    ("paper_kept_already").
    """
    check_rooms(hotel.house, case, [])
    if source.is_file() and source.suffix.lower() not in PAPER_ENDINGS:
        kinds = ", ".join(ending.removeprefix(".") for ending in PAPER_ENDINGS)
        raise Refusal("not_a_paper", file=source.name, kinds=kinds)
    hotel.require(PaperKept, action="keep_paper")
    kept = PaperKept(case, keep_file(hotel.path, source), source.name, what, hotel.by)

    def decide(house: House) -> Sequence[Fact]:
        check_rooms(house, case, [])
        there = {row.fact.sha256: row.fact.file_name for row in house.kept_of_case(PaperKept, case)}
        for log in house.kept_of_case(ProbeLogKept, case):
            there.setdefault(log.fact.sha256, log.fact.file_name)
        if kept.sha256 in there:
            raise Refusal("paper_kept_already", file=there[kept.sha256])
        return [kept]

    hotel.record(decide, action="keep_paper")
    return kept


def note_care(hotel: OpenHotel, done: Sequence[CareDone]) -> Changes:
    """Write down what was done with luggage, linen or tools of a room.

    Refusal("unknown_case"), ("room_not_of_case"), ("moment_to_come"),
    ("care_needs_name").
    """
    for care in done:
        if not care.by.strip():
            raise Refusal("care_needs_name")
        if care.done_at > hotel.now():
            local = care.done_at.astimezone(hotel.zone)
            raise Refusal("moment_to_come", moment=local.isoformat())

    def decide(house: House) -> Sequence[Fact]:
        for care in done:
            check_rooms(house, care.case, [care.room])
        return list(done)

    return hotel.record(decide, action="note_care")


def discard_item(hotel: OpenHotel, item: ItemDiscarded) -> Changes:
    """Write down a thing thrown away.

    Refusal("unknown_case"), ("room_not_of_case"), ("item_needs_name"), ("day_to_come").
    """
    if not item.what.strip():
        raise Refusal("item_needs_name")
    if item.discarded_on > hotel.today():
        raise Refusal("day_to_come", day=item.discarded_on.isoformat())

    def decide(house: House) -> Sequence[Fact]:
        check_rooms(house, item.case, [item.room])
        return [item]

    return hotel.record(decide, action="discard_item")


def check_rooms(house: House, case: CaseNo, rooms: Sequence[RoomNo]) -> None:
    """Refusal where there is no such case or room, or the case has nothing to do with it."""
    if case not in house.sightings:
        raise Refusal("unknown_case", case=case)
    known = rooms_of_case(house, case)
    for room in rooms:
        if room not in house.rooms:
            raise Refusal("unknown_room", room=room)
        if room not in known:
            raise Refusal("room_not_of_case", room=room, case=case)


def rooms_of_case(house: House, case: CaseNo) -> frozenset[RoomNo]:
    """Rooms that a case has to do with: signs, quarantine, checks asked for."""
    signs = (row.fact.room for row in house.sightings.get(case, ()))
    asked = (row.fact.room for row in house.kept_of_case(CheckAsked, case))
    closed = (placed.room for placed, _ in house.quarantines_by_case.get(case, ()))
    return frozenset((*signs, *asked, *closed))
