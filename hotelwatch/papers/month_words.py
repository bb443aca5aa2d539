"""The words of the month's book: states, reasons, kinds of fact, and what the file claims."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from functools import cache
from typing import get_type_hints

from hotelwatch.core.case_facts import Sign
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import Aid
from hotelwatch.core.month.due_rows import DueRow, DueState, WhyDays, WhyLate
from hotelwatch.core.month.page_rows import PolicyRow
from hotelwatch.core.month.rows import CaseClass, ChangeRow, HowKnown
from hotelwatch.wording.fact_fields import field_name
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label, place_label
from hotelwatch.wording.profiles import rule_name

DUE_STATES = {
    DueState.IN_TIME: m("looked at in time"),
    DueState.LATE: m("looked at late"),
    DueState.NOT_DONE: m("not looked at"),
    DueState.AHEAD: m("due later this month"),
    DueState.NO_LONGER_DUE: m("bed no longer in use"),
}

WHY_LATE = {
    WhyLate.PLACES_LEFT_OUT: m("looked, but underside places left out"),
    WhyLate.PLANNED_NOT_DONE: m("planned but not done"),
    WhyLate.NOT_PLANNED: m("could be entered, not planned"),
    WhyLate.NO_MINUTES: m("could be entered, teams' minutes used up"),
    WhyLate.NO_FIT_TEAM: m("could be entered, too few people or other hours"),
    WhyLate.NO_TEAM: m("could be entered, no team working"),
    WhyLate.IN_QUARANTINE: m("room in quarantine"),
    WhyLate.NO_OPENING: m("same guests in the room all day"),
    WhyLate.GUEST_DECLINED: m("guest asked for a look, and declined"),
}

FACTS = {
    "HotelDescribed": m("hotel's description"),
    "CycleChosen": m("choice of a cycle"),
    "RiskPlaced": m("risk of a room"),
    "TeamDescribed": m("team"),
    "FloorPlaced": m("floor"),
    "WingPlaced": m("wing"),
    "RoomDrawn": m("drawing of a room"),
    "StairPlaced": m("stair or lift"),
    "RoomDescribed": m("room on the roster"),
    "BedDescribed": m("bed on the roster"),
    "StaysImported": m("bookings read in"),
    "RoundPublished": m("published round"),
    "SlotPublished": m("room on a team's sheet"),
    "BedChecked": m("check of a bed"),
    "RoomChecked": m("look at a room's other places"),
    "Sighted": m("sighting"),
    "PhotoKept": m("photo"),
    "QuarantinePlaced": m("quarantine placed"),
    "QuarantineLifted": m("quarantine lifted"),
    "CheckAsked": m("check asked for"),
    "CaseJudged": m("judgement of a case"),
    "TreatmentRecorded": m("treatment"),
    "TeamDaysChanged": m("other minutes of a team"),
    "HouseDaysClosed": m("days without rounds"),
    "SeasonNoted": m("season"),
    "VisitArranged": m("visit agreed with a guest"),
    "VisitDeclined": m("look that a guest declined"),
    "NightAsked": m("night asked of front desk"),
    "NightAnswered": m("front desk's answer about a night"),
    "CheckPinned": m("check pinned to a day"),
    "TeamPinned": m("room pinned to a team"),
    "DayForbidden": m("day forbidden for a room"),
    "FurnitureMoved": m("furniture moved"),
    "SpecimenNoted": m("specimen"),
    "CasesJoined": m("cases joined"),
    "CaseEntryMoved": m("case split"),
    "CaseClosed": m("case closed"),
    "OwnerNamed": m("who sees to a duty"),
    "NoticeGiven": m("notice given"),
    "GuestMoved": m("guests moved"),
    "LetExplained": m("why a blocked room was let"),
    "FirmDescribed": m("licensed firm"),
    "TreatmentOrdered": m("treatment ordered"),
    "ProbeLogKept": m("log of probes"),
    "ProbeRead": m("readings of a probe"),
    "PaperKept": m("paper kept with a case"),
    "CareDone": m("care of linen, luggage or tools"),
    "ItemDiscarded": m("thing thrown away"),
    "MonitorPlaced": m("trap placed or taken away"),
    "MonitorRead": m("trap read"),
    "DogVisit": m("dog's visit"),
    "CartServes": m("rooms of a cart"),
    "ProfileChosen": m("local rules chosen"),
    "RuleChosen": m("house rule"),
    "RuleSetKept": m("set of local rules"),
    "RuleClause": m("clause of local rules"),
    "RulesCompared": m("local rules compared with the law"),
    "FigureChosen": m("hotel's own figure"),
    "PublicHoliday": m("public holiday"),
    "RoomTypesRanked": m("order of room types"),
    "DummyHidden": m("blind trial begun"),
    "DummyEnded": m("blind trial ended"),
    "BlindPair": m("two blind looks"),
    "PersonDescribed": m("person of the hotel"),
    "DeedRefused": m("something refused"),
    "TrainingRecorded": m("training"),
    "RecordRestored": m("record restored from a backup"),
    "ContentExpired": m("names, notes or photos expired"),
    "ExpiryStopped": m("kept from expiring, or no longer"),
    "LateReasonKept": m("reason for lateness, kept with a month's closing"),
    "LetKept": m("room let in quarantine, kept with a month's closing"),
}

BETWEEN_REASONS = "; "
NOTHING = ("", "None")
"""Texts of a field that says nothing."""
CLASSES = {
    CaseClass.SUSPECTED: m("suspected"),
    CaseClass.CONFIRMED: m("confirmed"),
    CaseClass.RULED_OUT: m("not confirmed: ruled out"),
}
HOW_KNOWN = {
    HowKnown.GUEST: m("a guest told it"),
    HowKnown.DOG: m("a dog alerted"),
    HowKnown.CHECK: m("in a check"),
    HowKnown.STAFF: m("somebody of the house saw it"),
}

UNITS = {
    "days": m("days"),
    "minutes per room": m("minutes per room"),
    "hours": m("hours"),
    "checks": m("checks"),
    "share": m("share"),
    "share of infestations found": m("share of infestations found"),
}


def yes_no(claim: bool) -> str:
    """The word for a claim that holds or does not."""
    return _("yes") if claim else _("no")


def case_class(found: CaseClass) -> str:
    """What a case is called towards strangers."""
    return _(CLASSES[found])


def how_known(how: HowKnown) -> str:
    """How a sign became known."""
    return _(HOW_KNOWN[how])


def unseen_why(code: str) -> str:
    """Why a place was not looked at."""
    return label(code) if code else _("no reason written down")


def due_state(state: DueState) -> str:
    """What became of an underside that was due."""
    return _(DUE_STATES[state])


def why_late(why: WhyLate) -> str:
    """Why an underside was not looked at in time."""
    return _(WHY_LATE[why])


def why_sentence(row: DueRow) -> str:
    """Every reason with its days: "planned but not done (2 days); room in quarantine (1 day)"."""
    return BETWEEN_REASONS.join(map(why_days, row.why))


def why_days(reason: WhyDays) -> str:
    """A reason with its days: "planned but not done (2 days)"."""
    said = ngettext("{why} ({count} day)", "{why} ({count} days)", reason.days)
    return said.format(why=why_late(reason.why), count=reason.days)


def places(codes: Iterable[str]) -> str:
    """Places one after the other."""
    return ", ".join(place_label(code) for code in codes)


def aids(codes: Iterable[str]) -> str:
    """Aids used, in words; empty: not said."""
    return ", ".join(label(Aid(code)) for code in codes)


def unseen(pairs: Iterable[str]) -> str:
    """Places not looked at, each with its reason."""
    return "; ".join(_not_looked_at(*pair.partition(":")[::2]) for pair in pairs)


def _not_looked_at(place: str, why: str) -> str:
    return f"{place_label(place)}: {unseen_why(why)}"


def found(pairs: Iterable[str]) -> str:
    """Places with a sign, each with the sign."""
    return "; ".join(_found(*pair.partition(":")[::2]) for pair in pairs)


def _found(place: str, sign: str) -> str:
    said = label(Sign(sign)) if sign in set(Sign) else label(sign)
    return f"{place_label(place)}: {said}"


def fact_kind(name: str) -> str:
    """The kind of a fact, from its class name."""
    return _(FACTS[name]) if name in FACTS else name


def old_values(row: ChangeRow) -> str:
    """What a correction replaced, field by field."""
    return told(row, is_new=False)


def new_values(row: ChangeRow) -> str:
    """What a late entry or a correction says, field by field."""
    return told(row, is_new=True)


def told(row: ChangeRow | PolicyRow, *, is_new: bool) -> str:
    """Fields with their new or their old values, each on a line."""
    values = ((one.field, one.new if is_new else one.old) for one in row.changed)
    return "\n".join(
        f"{field_name(field)}: {_said(row.kind, field, value)}"
        for field, value in values
        if value not in NOTHING
    )


def _said(fact: str, field: str, value: str) -> str:
    """A field's value in words where it is a code or a list of codes."""
    codes = [code for code in value.split(", ") if code]
    match field:
        case "seen":
            return places(codes)
        case "unseen":
            return unseen(codes)
        case "found":
            return found(codes)
        case "place" | "reasons":
            return ", ".join(label(code) for code in codes)
        case "role" | "subject" | "scope":
            return label(value)
        case "rule":
            return rule_name(value)
    kind = _types_of(fact).get(field)
    if isinstance(kind, type) and issubclass(kind, StrEnum) and value in set(kind):
        return label(kind(value))
    return yes_no(value == "True") if value in ("True", "False") else value


@cache
def _types_of(fact: str) -> dict[str, object]:
    kinds = {kind.__name__: kind for kind in FACT_KINDS}
    return get_type_hints(kinds[fact]) if fact in kinds else {}


def change_sentence(row: ChangeRow) -> str:
    """A row of what was written down later, in a sentence."""
    what = told(row, is_new=True) or told(row, is_new=False)
    return _("Entry {entry} by {person}: {kind} {about}, {what} ({values})").format(
        entry=row.entry,
        person=row.by,
        kind=fact_kind(row.kind),
        about=row.subject,
        what=change_kind(row),
        values=what.replace("\n", "; "),
    )


def change_kind(row: ChangeRow) -> str:
    """Whether a row adds, replaces or withdraws something."""
    if row.corrects is None:
        return _("written down late")
    if not any(change.new for change in row.changed):
        return _("withdrawn")
    if not any(change.old for change in row.changed):
        return _("added by a correction")
    return _("corrected")


def unit(text: str) -> str:
    """A figure's unit."""
    return _(UNITS[text]) if text in UNITS else text
