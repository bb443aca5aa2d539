"""What is missing before a room is given back, and what is to be done next, as sentences."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime, tzinfo
from typing import Any

from hotelwatch.core.cases.release import Missing
from hotelwatch.core.cases.steps import Step
from hotelwatch.wording.dates import day_text, moment_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label

MISSING = {
    "judgement": m("A competent person has yet to judge what was found in {room}."),
    "treatment": m("No licensed treatment of {room} is recorded."),
    "treatment_after_find": m(
        "Something was found in {room} on {found_on}, after its last treatment: treat again."
    ),
    "reentry": m("Nobody may enter {room} before {until}."),
    "clean_checks": m(
        "{where}: {have} of {need} clean checks with the underside looked at; the next one"
        " counts from {next_from}."
    ),
    "full_check": m(
        "{where}: no clean check yet that looked at every place, dust cover and corner caps too."
    ),
    "after_hatch": m(
        "{where}: no clean check yet after the slowest egg has hatched ({celsius} °C): the first"
        " day is {next_from}."
    ),
    "eggs_not_known": m(
        "{room}: how long eggs take at {celsius} °C is not known here. Measure the room, and set"
        " its temperature among the hotel's figures."
    ),
    "traps_read": m("{room}: nobody has looked into {monitors} for too long."),
    "trap_readings": m(
        "{room}: {have} of {need} empty readings of traps; the next one counts from {next_from}."
    ),
    "release_word": m("{whose} has yet to give the word that {room} may be let."),
}

STEPS = {
    "check_room": m("Look at {room}: deep check, with its undersides."),
    "judge_specimen": m(
        "Have a competent person judge what was found in {room}; keep the specimen."
    ),
    "record_treatment": m("Call a licensed firm for {rooms}, and record its treatment."),
    "treat_again": m(
        "Found again on {found_on}: call the licensed firm for {rooms}, record its treatment."
    ),
    "await_treatment": m(
        "{firm} comes to {rooms} on {at}: prepare as the firm wrote, then record the treatment."
    ),
    "move_guest": m(
        "Give the guest of {room}, who stays until {day}, another room: front desk's page says"
        " which."
    ),
    "move_guest_who_came": m(
        "Give the guest of {room}, who stays until {day}, another room: front desk's page says"
        " which. The hours count from {came_at}, when guests may come that day; when this one came"
        " is not known."
    ),
    "other_room": m(
        "A guest comes into {room} on {day}: give another room, front desk's page says which."
    ),
    "answer_guest": m("Answer the guest who told of {room}; write down when, never who."),
    "tell_authority": m("Tell the authority about {room}: {to}."),
    "take_care": m("See to {left} of {room} as the sheet says, and write down what was done."),
    "wait_for_reentry": m("Keep everybody out of {room} until {until}."),
    "clean_checks": m(
        "Look at {where} again: {have} of {need} clean checks done; the next one counts from"
        " {next_from}."
    ),
    "clearance_checks": m(
        "Clearance check of {where}: {have} of {need} clean ones done; the next one counts from"
        " {next_from}."
    ),
    "full_check": m(
        "Look at {where} whole: every place, dust cover and corner caps too; it counts from"
        " {next_from}."
    ),
    "after_hatch": m(
        "Look at {where} again from {next_from} on, when the slowest egg has hatched."
    ),
    "measure_room": m(
        "Measure how warm {room} is, and set it among the hotel's figures: nothing is known about"
        " eggs at {celsius} °C."
    ),
    "count_reading": m(
        "Look into the traps of {room}: {have} of {need} empty readings; the next one counts from"
        " {next_from}."
    ),
    "ask_release_word": m("Ask for the word that {room} may be let: {whose}."),
    "watch_look": m("Look at {room}, which is watched: it is covered until {covered_until}."),
    "keep_watch": m("Keep watch over {rooms}: {counted} of {need} clean covered days."),
    "close_case": m("The watch over {rooms} is over: decide on closing the case."),
    "lift_quarantine": m("The conditions are met: decide on lifting the quarantine of {rooms}."),
    "nothing_open": m("Nothing is open. Keep to the cycle."),
}


def missing_sentence(missing: Missing, zone: tzinfo | str) -> str:
    """A condition of release that is not met, by the hotel's clock."""
    return _said(MISSING, missing.code, missing.values, zone)


def step_sentence(step: Step, zone: tzinfo | str) -> str:
    """What is to be done next in a case, by the hotel's clock, without its deadline."""
    if step.code == "check_neighbours":
        return _neighbours(step.values)
    if step.code == "read_monitors":
        return _traps(step.values)
    code = step.code
    if code == "record_treatment" and step.values.get("found_on"):
        code = "treat_again"
    elif code == "move_guest" and step.values.get("came_at"):
        code = "move_guest_who_came"
    return _said(STEPS, code, step.values, zone)


def deadline_text(step: Step, zone: tzinfo | str, *, now: datetime) -> str:
    """By when a step is to be done: "by Wed 25 Nov 2026, 14:05 CET"; empty without one."""
    if step.due_at is None:
        return ""
    by_at = moment_text(step.due_at, zone)
    if step.is_late(now):
        return _("was to be done by {moment}").format(moment=by_at)
    return _("by {moment}").format(moment=by_at)


def _neighbours(values: Mapping[str, Any]) -> str:
    count, late = int(values["count"]), int(values["late"])
    said = ngettext(
        "Look at {count} neighbouring room: {rooms}.",
        "Look at {count} neighbouring rooms: {rooms}.",
        count,
    ).format(count=count, rooms=_rooms(values["rooms"]))
    if not late:
        return said
    overdue = ngettext("{count} is overdue.", "{count} are overdue.", late).format(count=late)
    return f"{said} {overdue}"


def _traps(values: Mapping[str, Any]) -> str:
    traps = values["monitors"]
    return ngettext(
        "Look into trap {traps} in {room}, and write down what is in it.",
        "Look into traps {traps} in {room}, and write down what is in them.",
        len(traps),
    ).format(traps=_rooms(traps), room=values["room"])


def _rooms(rooms: Iterable[str]) -> str:
    return join([str(room) for room in rooms])


def _said(
    table: Mapping[str, str], code: str, values: Mapping[str, Any], zone: tzinfo | str
) -> str:
    said = {key: _value(value, zone) for key, value in values.items()}
    if "left" in values:
        said["left"] = join([label(code).lower() for code in values["left"]])
    said["where"] = said.get("bed") or said.get("beds") or said.get("room", "")
    if "whose" in values:
        said["whose"] = label(values["whose"])
    return _(table[code]).format(**said) if code in table else label(code)


def _value(value: object, zone: tzinfo | str) -> str:
    if isinstance(value, datetime):
        return moment_text(value, zone)
    if isinstance(value, date):
        return day_text(value)
    if isinstance(value, tuple):
        return _rooms(value)
    if isinstance(value, float):
        return f"{value:g}"
    return str(value)
