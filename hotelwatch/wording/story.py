"""A case's story line by line, its next step in a few words, and what became of asked checks."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import tzinfo
from typing import Any

from hotelwatch.core.case_facts import (
    CaseClosed,
    CaseJudged,
    LifeStage,
    NoticeGiven,
    QuarantineLifted,
    Sighted,
)
from hotelwatch.core.cases.rows import AskedRow
from hotelwatch.core.cases.steps import Step
from hotelwatch.core.cases.story import StoryLine
from hotelwatch.core.cases.story_facts import CODES
from hotelwatch.core.treatment_facts import MonitorRead, TreatmentRecorded
from hotelwatch.wording.dates import day_text, moment_text, short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label, place_label
from hotelwatch.wording.reasons import neighbour_reasons
from hotelwatch.wording.release_lines import release_line
from hotelwatch.wording.story_facts import fact_line

STEP_SHORT = {
    "check_room": m("Look at {room}"),
    "judge_specimen": m("Have the find judged"),
    "move_guest": m("Move the guest of {room}"),
    "other_room": m("New room for {room}'s guest"),
    "record_treatment": m("Treatment of {rooms}"),
    "wait_for_reentry": m("Wait for re-entry to {room}"),
    "clean_checks": m("Look again: {have} of {need} clean"),
    "clearance_checks": m("Clearance: {have} of {need} clean"),
    "lift_quarantine": m("Decide on giving back {rooms}"),
    "full_check": m("Look at {room} whole"),
    "after_hatch": m("Look at {room} after the eggs hatch"),
    "measure_room": m("Measure how warm {room} is"),
    "read_monitors": m("Look into the traps in {room}"),
    "count_reading": m("Readings of traps: {have} of {need}"),
    "ask_release_word": m("Ask for the word for {room}"),
    "watch_look": m("Look at {room} under watch"),
    "keep_watch": m("Watch: {counted} of {need} days"),
    "close_case": m("Decide on closing the case"),
    "nothing_open": m("Nothing open"),
}

QUARANTINED = {
    "sighting": m("{rooms} in quarantine: a sign was seen or reported."),
    "neighbour_found": m("{rooms} in quarantine: looked at as a neighbour, and something found."),
    "same_suite": m("{rooms} in quarantine: same suite."),
    "ring_held": m("{rooms} in quarantine until looked at: around the sign."),
}


def step_short(step: Step) -> str:
    """What is to be done next, in a few words for a column."""
    if step.code == "check_neighbours":
        count = int(step.values["count"])
        return ngettext("Look at {count} neighbour", "Look at {count} neighbours", count).format(
            count=count
        )
    said = {
        key: join([str(one) for one in value]) if isinstance(value, tuple) else str(value)
        for key, value in step.values.items()
    }
    return _(STEP_SHORT[step.code]).format(**said) if step.code in STEP_SHORT else label(step.code)


def asked_state_text(row: AskedRow) -> str:
    """What became of an asked check: "looked at Tue 4 Aug", "late", "to be done"."""
    if row.done_on is not None and row.is_late:
        return _("looked at {day}, late").format(day=short_day_text(row.done_on))
    if row.done_on is not None:
        return _("looked at {day}").format(day=short_day_text(row.done_on))
    if not row.is_open:
        return _("no longer wanted")
    return _("late, to be done now") if row.is_late else _("to be done")


def asked_sentence(row: AskedRow) -> str:
    """An asked check in a line: "302 (shares a wall with 301): looked at Tue 4 Aug"."""
    return _("{room} ({why}): {state}").format(
        room=row.room,
        why=neighbour_reasons(row.reasons, source=row.source),
        state=asked_state_text(row),
    )


def sighting_sentence(sighted: Sighted) -> str:
    """What was seen, where and by whom."""
    where = ", ".join(
        part
        for part in (
            sighted.bed or sighted.room,
            place_label(sighted.place).lower() if sighted.place else "",
        )
        if part
    )
    what = label(sighted.sign)
    if sighted.life_stage:
        stage = label(LifeStage(sighted.life_stage)).lower()
        what = _("{sign}, {stage}").format(sign=what, stage=stage)
    if sighted.count:
        what = _("{sign} (counted: {count})").format(sign=what, count=sighted.count)
    said = _("{what}: {where}. Seen or reported by {who}.").format(
        what=what, where=where, who=sighted.seen_by
    )
    return _with_note(said, sighted.noted)


def story_sentence(line: StoryLine, zone: tzinfo | str) -> str:
    """A line of a case's story, without its day."""
    fact = line.values.get("fact")
    if line.code in CODES:
        return fact_line(line.values["fact"], zone)
    if isinstance(fact, Sighted):
        return sighting_sentence(fact)
    if isinstance(fact, CaseJudged):
        return _judged(fact)
    if isinstance(fact, TreatmentRecorded):
        return _treated(fact, zone)
    if isinstance(fact, QuarantineLifted):
        return _lifted(fact)
    if isinstance(fact, NoticeGiven | MonitorRead | CaseClosed):
        return release_line(fact)
    say = {"quarantined": _quarantined, "looked": _looked, "photos": _photos}.get(line.code)
    return say(line.values) if say else _asked(line.values, zone)


def story_details(line: StoryLine) -> tuple[str, ...]:
    """What stands below a line: each asked room, what is late first, then what is left."""
    if line.code != "asked":
        return ()
    rows = sorted(line.values["rows"], key=lambda row: (not row.is_open, not row.is_late))
    return tuple(asked_sentence(row) for row in rows)


def _quarantined(values: Mapping[str, Any]) -> str:
    rooms = join([str(room) for room in values["rooms"]])
    reason = values["reason"]
    if reason in QUARANTINED:
        return _(QUARANTINED[reason]).format(rooms=rooms)
    return _("{rooms} in quarantine: {reason}.").format(rooms=rooms, reason=label(reason))


def _asked(values: Mapping[str, Any], zone: tzinfo | str) -> str:
    rows: tuple[AskedRow, ...] = values["rows"]
    said = ngettext(
        "{count} room to be looked at by {moment}",
        "{count} rooms to be looked at by {moment}",
        len(rows),
    ).format(count=len(rows), moment=moment_text(values["by_at"], zone))
    done = sum(row.done_on is not None for row in rows)
    left = sum(row.is_open for row in rows)
    late = sum(row.is_open and row.is_late for row in rows)
    parts = [
        text.format(count=count)
        for text, count in (
            (_("{count} done"), done),
            (_("{count} left"), left),
            (_("{count} late"), late),
        )
        if count
    ]
    return f"{said}: {', '.join(parts)}." if parts else f"{said}."


def _looked(values: Mapping[str, Any]) -> str:
    if values["beds_seen"] == values["beds"]:
        said = _("{room}: {kind} by {who}; every underside looked at.")
    else:
        said = ngettext(
            "{room}: {kind} by {who}; underside looked at on {seen} of {beds} bed.",
            "{room}: {kind} by {who}; underside looked at on {seen} of {beds} beds.",
            values["beds"],
        )
    said = said.format(
        room=values["room"],
        kind=label(values["kind"]).lower(),
        who=join(list(values["by"])),
        seen=values["beds_seen"],
        beds=values["beds"],
    )
    told = _("Something was found.") if values["found"] else _("No sign was seen.")
    return f"{said} {told}"


def _photos(values: Mapping[str, Any]) -> str:
    count = len(values["facts"])
    return ngettext("{count} photo kept.", "{count} photos kept.", count).format(count=count)


def _judged(fact: CaseJudged) -> str:
    said = _("Judged by {who} ({competence}): {outcome}.").format(
        who=fact.judged_by, competence=fact.competence, outcome=label(fact.outcome).lower()
    )
    if fact.was:
        said = _("{said} It was: {what}.").format(said=said, what=fact.was)
    return _with_note(said, fact.noted)


def _treated(fact: TreatmentRecorded, zone: tzinfo | str) -> str:
    said = _(
        "{room} treated: {method}, by {firm} (licence {licence}). Nobody enters before {moment}."
    ).format(
        room=fact.room,
        method=fact.method,
        firm=fact.firm,
        licence=fact.licence,
        moment=moment_text(fact.reenter_at, zone),
    )
    return _with_note(said, fact.noted)


def _lifted(fact: QuarantineLifted) -> str:
    who = fact.by
    if fact.competence:
        who = _("{who} ({competence})").format(who=fact.by, competence=fact.competence)
    if fact.conditions_met:
        return _("{room} given back by {who}; the conditions were met.").format(
            room=fact.room, who=who
        )
    return _("{room} given back by {who} although conditions were missing: {reason}").format(
        room=fact.room, who=who, reason=fact.reason
    )


def _with_note(said: str, note: str) -> str:
    return f"{said} “{note}”" if note else said


def case_heading(rooms: tuple[str, ...], no: str) -> str:
    """A case's heading: "Case 2026-003, room 305"."""
    return ngettext("Case {no}, room {rooms}", "Case {no}, rooms {rooms}", len(rooms)).format(
        no=no, rooms=join([str(room) for room in rooms])
    )


def days_line(line: StoryLine, zone: tzinfo) -> str:
    """When a line happened: its day, with the clock where a moment is known."""
    if line.at is None:
        return day_text(line.on)
    return f"{day_text(line.on)}, {line.at.astimezone(zone):%H:%M}"
