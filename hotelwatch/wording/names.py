"""The short name of every code: of kinds and stages, of places, beds, moves and cautions.

Plain words of the trade, in sentence case. A code of an enum is looked up under
the name of its enum, since "left" is a side to one and a departure to another.
"""

from __future__ import annotations

from enum import StrEnum

from hotelwatch.wording.action_names import ACTIONS, STEPS
from hotelwatch.wording.case_names import (
    ALERT_FATE,
    CARE_STEP,
    DUTIES_AND_RULES,
    EVIDENCE,
    LIFE_STAGE,
    OUTCOME,
    PAPER_KIND,
    RING,
    RING_REASONS,
    SIGN,
    SPECIMEN_STEP,
)
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.odds_names import ODDS
from hotelwatch.wording.people import SAYS, SIGHTS, STAFF_ROLES, TRAINING_TOPICS, WHY_REFUSED
from hotelwatch.wording.retention_names import RETENTION_ENUMS
from hotelwatch.wording.round_names import AWAY, BINDS, HINDRANCE, MEND, WHY_DOUBTFUL
from hotelwatch.wording.rule_names import RULE_ENUMS
from hotelwatch.wording.sheet_names import (
    AIDS,
    BEDS,
    CAUTIONS,
    MOVES,
    PLACES,
    STANDING,
    WHY_NO_TEAM,
    WHY_UNSEEN,
)

QUARANTINE_REASONS = {
    "sighting": m("A sign was seen or reported"),
    "neighbour_found": m("A sign was found next to it"),
    "ring_held": m("It lies around a sign"),
}

WEEKDAYS = {
    "mon": m("Monday"),
    "tue": m("Tuesday"),
    "wed": m("Wednesday"),
    "thu": m("Thursday"),
    "fri": m("Friday"),
    "sat": m("Saturday"),
    "sun": m("Sunday"),
}

ROOM_STANDING = {
    "quarantine": m("In quarantine"),
    "found": m("Sign found"),
    "to_check": m("To check"),
    "overdue": m("Overdue"),
    "due_soon": m("Due soon"),
    "later": m("Not due yet"),
    "no_bed": m("No bed"),
}

ENUMS: dict[str, dict[str, str]] = {
    "Binds": BINDS,
    "Mend": MEND,
    "RoomStanding": ROOM_STANDING,
    "Topic": {
        "roster": m("Rooms and beds"),
        "stays": m("Bookings"),
        "checks": m("Checks"),
        "rounds": m("Rounds"),
        "cases": m("Cases"),
        "quarantine": m("Quarantine"),
        "settings": m("Choices of the hotel"),
        "people": m("People and roles"),
    },
    "Side": {
        "left": m("Left of the corridor"),
        "right": m("Right of the corridor"),
        "end": m("End of the corridor"),
    },
    "Climb": {"stair": m("Stair"), "lift": m("Lift")},
    "Assumed": {
        "stairs_where_wings_begin": m("A stair where each wing begins"),
        "straight_between_beginnings": m("A straight walk between wings that nothing joins"),
    },
    "CheckKind": {
        "deep": m("Deep check"),
        "brief": m("Brief check"),
        "asked": m("Asked check"),
        "clearance": m("Clearance check"),
    },
    "Aid": AIDS,
    "Sign": SIGN,
    "LifeStage": LIFE_STAGE,
    "AlertFate": ALERT_FATE,
    "SpecimenStep": SPECIMEN_STEP,
    "CareStep": CARE_STEP,
    "Outcome": OUTCOME,
    "Scope": {
        "house": m("Whole hotel"),
        "room_type": m("Room type"),
        "risk": m("Risk"),
        "room": m("Single room"),
    },
    "Risk": {
        "usual": m("Usual risk"),
        "higher": m("Higher risk"),
        "lower": m("Lower risk"),
    },
    "StayStatus": {
        "booked": m("Booked"),
        "in_house": m("In house"),
        "left": m("Departed"),
        "cancelled": m("Cancelled"),
        "no_show": m("No-show"),
    },
    "Standing": STANDING,
    "Kind": {
        "shares_wall": m("Shares a wall"),
        "above": m("Above"),
        "below": m("Below"),
        "across": m("Across the corridor"),
        "connects": m("Connecting door"),
        "same_suite": m("Same suite"),
    },
    "OpeningKind": {
        "all_day": m("Vacant all day"),
        "after_departure": m("After the guest has left"),
        "before_arrival": m("Before the next guest"),
        "turnover": m("Between two guests"),
        "arranged": m("While the guest stays, as agreed"),
        "after_reentry": m("After re-entry"),
    },
    "WhyDoubtful": WHY_DOUBTFUL,
    "WhyNot": {
        "no_opening": m("Guest in the room on every day"),
        "nobody_then": m("No team at work when it can be entered"),
        "forbidden": m("Kept off the days when it can be entered"),
        "in_quarantine": m("In quarantine"),
        "no_minutes": m("Teams have no minutes left"),
        "pinned": m("Pinned where it can't be"),
        "pinned_full": m("Pinned where others take its minutes"),
        "no_team": m("No team works on these days"),
        "too_long": m("One bed needs more than a day's minutes"),
        "hours_too_short": m("Hours too short"),
        "too_early": m("Can be entered only soon after its last look"),
        "not_again": m("No minutes when it comes due again"),
        "shut_again": m("Can't be entered when it comes due again"),
    },
    "WhyNoTeam": WHY_NO_TEAM,
    "DayKind": {
        "usual": m("As usual"),
        "free": m("Does not work"),
        "away": m("Away"),
        "changed": m("Other minutes than usual"),
        "closed": m("No rounds"),
    },
    "Away": AWAY,
    "Hindrance": HINDRANCE,
    "PullReason": {
        "vacant_long": m("Vacant for weeks"),
        "furniture_moved": m("Furniture moved"),
    },
    "PlaceState": {
        "seen": m("Looked at"),
        "unseen": m("Not looked at"),
        "found": m("Found"),
        "unsaid": m("Not said"),
    },
    "SlotState": {
        "looked_at": m("Looked at"),
        "with_gaps": m("Looked at, underside not whole"),
        "in_vain": m("Nobody could look"),
        "in_quarantine": m("In quarantine"),
        "guest_stays": m("Guest stays"),
        "too_soon": m("Treated, not to be entered yet"),
        "to_do": m("To do"),
    },
    "Lack": {
        "no_roster": m("No room is known yet"),
        "no_bookings": m("No bookings were loaded yet"),
        "no_team": m("No team is described yet"),
        "house_closed": m("There are no rounds today"),
        "not_published": m("No round is published for today"),
        "nothing_on_sheets": m("No room is on today's sheets"),
    },
    "CaseClass": {
        "class_suspected": m("Suspected"),
        "class_confirmed": m("Confirmed"),
        "class_ruled_out": m("Ruled out"),
    },
    "HowKnown": {
        "guest": m("Told by a guest"),
        "dog": m("Alerted by a dog"),
        "check": m("Seen in a check"),
        "staff": m("Seen by staff"),
    },
    "DueState": {
        "in_time": m("Looked at in time"),
        "late": m("Looked at late"),
        "not_done": m("Not looked at"),
        "ahead": m("Still ahead"),
        "no_longer_due": m("No longer due"),
    },
    "WhyLate": {
        "places_left_out": m("Underside places left out"),
        "planned_not_done": m("Planned, not done"),
        "not_planned": m("Not planned"),
        "no_minutes": m("Teams had no minutes left"),
        "no_fit_team": m("Teams too small, or at other hours"),
        "no_team": m("No team worked that day"),
        "in_quarantine": m("Room in quarantine"),
        "no_opening": m("Guest stayed through"),
        "guest_declined": m("Guest was asked, and declined"),
    },
    "Condition": {
        "until_released": m("Until given back"),
        "work_to_be_done": m("Work to be done"),
        "work_going_on": m("Work going on"),
        "to_be_looked_at": m("To be looked at"),
        "ready_for_release": m("Ready to be given back"),
    },
    "Touched": {
        "in_house": m("In house, to be moved"),
        "arriving": m("Arriving"),
    },
    "Stage": {
        "suspected": m("Suspected"),
        "confirmed": m("Confirmed"),
        "in_treatment": m("In treatment"),
        "under_follow_up": m("Under follow-up"),
        "ruled_out": m("Ruled out"),
        "undetermined": m("Undetermined"),
        "released": m("Released, under watch"),
        "closed": m("Closed"),
    },
    "Grip": {
        "good": m("Good grip"),
        "fair": m("Fair grip"),
        "poor": m("Poor grip"),
    },
    "Spell": {
        "short": m("Up to one hour of lifting"),
        "moderate": m("Up to two hours of lifting"),
        "long": m("Up to eight hours of lifting"),
    },
    "Evidence": EVIDENCE,
    **DUTIES_AND_RULES,
    **RING,
    **ODDS,
    **RULE_ENUMS,
    **RETENTION_ENUMS,
    "LateKind": {
        "agreed_broken": m("Agreed look that nobody can keep"),
        "look_missed": m("Look that a case wanted, missed"),
        "duty_missed": m("Deadline of a case, missed"),
        "not_planned": m("Look not planned in time"),
        "underside_overdue": m("Underside overdue"),
        "sooner_missed": m("Early look missed"),
    },
    "PaperKind": PAPER_KIND,
    "StaffRole": STAFF_ROLES,
    "TrainingTopic": TRAINING_TOPICS,
    "Sight": SIGHTS,
    "WhyRefused": WHY_REFUSED,
    "Say": SAYS,
    "DummyFate": {"collected": m("Collected"), "lost": m("Lost")},
    "TrialState": {
        "hidden": m("Hidden"),
        "found": m("Found"),
        "missed": m("Missed"),
        "nobody_looked": m("Nobody looked"),
        "not_looked_at": m("Not looked at there"),
        "not_blind": m("Who hid it looked"),
        "lost": m("Lost"),
    },
}

CODES = (
    PLACES,
    BEDS,
    MOVES,
    CAUTIONS,
    WHY_NO_TEAM,
    WHY_UNSEEN,
    ENUMS["Kind"],
    QUARANTINE_REASONS,
    RING_REASONS,
    WEEKDAYS,
    ACTIONS,
    STEPS,
)


def label(code: StrEnum | str) -> str:
    """The short name of a code: of an enum's member, or of a place, bed, move, caution...

    A plain code that stands in more than one table is named as in the first of
    ``CODES``; ask ``bed_label`` for a kind of bed. A code that no table has (a
    place that an older file knew) comes back with spaces for underscores.
    """
    if isinstance(code, StrEnum):
        return _named(ENUMS.get(type(code).__name__, {}), code.value)
    table = next((table for table in (*CODES, *ENUMS.values()) if code in table), {})
    return _named(table, code)


def bed_label(kind: str) -> str:
    """The short name of a kind of bed."""
    return _named(BEDS, kind)


def place_label(place: str) -> str:
    """The short name of a place one looks at."""
    return _named(PLACES, place)


def _named(table: dict[str, str], code: str) -> str:
    return _(table[code]) if code in table else code.replace("_", " ").capitalize()
