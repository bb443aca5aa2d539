"""The short name of every code: of kinds and stages, of places, beds, moves and cautions.

Plain words of the trade, in sentence case. A code of an enum is looked up under
the name of its enum, since "left" is a side to one and a departure to another.
"""

from __future__ import annotations

from enum import StrEnum

from hotelwatch.wording.action_names import ACTIONS, STEPS
from hotelwatch.wording.case_names import (
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
from hotelwatch.wording.people import SIGHTS, STAFF_ROLES, WHY_REFUSED
from hotelwatch.wording.round_names import AWAY, BINDS, BOUND_RULE, HINDRANCE, MEND, WHY_DOUBTFUL

PLACES = {
    "bedding": m("Bedding, layer by layer"),
    "mattress_top": m("Mattress top, piping and corners"),
    "mattress_label": m("Mattress label and handles"),
    "encasement_zip": m("Zip of the mattress encasement"),
    "encasement_seams": m("Seams and corners of the encasement"),
    "mattress_underside": m("Underside of the mattress"),
    "base_edge": m("Edge and corners of the base"),
    "base_underside": m("Underside of the box spring"),
    "base_staple_line": m("Staple line of its dust cover"),
    "base_corner_caps": m("Corner caps"),
    "base_inside": m("Inside, behind the dust cover"),
    "base_encasement_underside": m("Underside of the encased box spring"),
    "platform_top": m("Platform top, under the mattress"),
    "platform_joints": m("Joints and screw holes of the platform"),
    "platform_underneath": m("Underneath the platform"),
    "divan_underside": m("Underside of the divan"),
    "divan_drawers": m("Divan drawers and their runners"),
    "slats": m("Slats"),
    "slat_ends": m("Slat ends and holders"),
    "bunk_upper_underside": m("Underside of the upper bunk"),
    "bunk_joints": m("Bunk joints, ladder and rails"),
    "adjustable_underside": m("Underside of the adjustable base"),
    "sofa_cushions": m("Sofa cushions and their zips"),
    "sofa_fold": m("Fold and hinges of the sofa bed"),
    "sofa_underside": m("Underside of the sofa"),
    "rollaway_frame": m("Frame and hinges of the roll-away"),
    "rollaway_underside": m("Underside of the roll-away"),
    "crib_base": m("Crib base, under its mattress"),
    "crib_joints": m("Crib joints"),
    "frame_joints": m("Bed frame joints, legs and castors"),
    "headboard_front": m("Headboard, front and edges"),
    "headboard_back": m("Behind the headboard"),
    "night_stands": m("Night stands and drawers"),
    "pictures_lamps": m("Behind pictures and wall lamps"),
    "seats": m("Upholstered seats"),
    "luggage_rack": m("Luggage rack and its straps"),
    "skirting": m("Skirting and carpet edge by the bed"),
}

BEDS = {
    "box_spring": m("Box spring and mattress"),
    "platform": m("Platform bed"),
    "divan": m("Divan"),
    "slats": m("Bed with slats"),
    "adjustable": m("Adjustable bed"),
    "bunk": m("Bunk bed"),
    "sofa_bed": m("Sofa bed"),
    "rollaway": m("Roll-away bed"),
    "crib": m("Crib"),
}

MOVES = {
    "stand_mattress": m("Stand the mattress on its side"),
    "stand_base": m("Stand the base on its side"),
    "open_dust_cover": m("Open the dust cover"),
    "drawers_out": m("Take the drawers out"),
    "raise_and_unplug": m("Raise the base, then unplug it"),
    "cushions_off": m("Take the cushions off"),
    "unfold_sofa": m("Unfold the sofa bed"),
    "tilt_sofa": m("Tilt the sofa"),
    "lift_crib_mattress": m("Lift the crib mattress"),
    "unhang_headboard": m("Take the headboard off the wall"),
}

CAUTIONS = {
    "lift_slowly_bag_linen": m("Lift slowly, look, bag the linen in the room"),
    "gloves_and_light": m("Gloves on; bright light held low along the seams"),
    "leave_label_on": m("Look under the label; leave it on"),
    "do_not_open_encasement": m("Leave the encasement closed"),
    "two_people_lift": m("Two people; keep clear of where it may fall"),
    "staples_are_sharp": m("Staples are sharp: gloves, no bare fingers"),
    "look_under_caps": m("Look under each cap; do not break it off"),
    "decide_before_opening": m("Decide first: a cover once opened may not go back as it was"),
    "knees_and_light": m("Kneel on a pad; light in first, hand later"),
    "ladder_two_people": m("Two people; one steadies the ladder"),
    "unplug_pinch": m("Unplug it; fingers off hinges and motors"),
    "pinch_unfold": m("It can pinch: hold by the handles only"),
    "headboard_two_people": m("Two people; it is heavy once off its hooks"),
    "outlets_eyes_only": m("Eyes only at sockets: touch nothing electric"),
}

WHY_UNSEEN = {
    "guest_belongings": m("Guest's belongings in the way"),
    "fixed_to_floor": m("Fixed, could not be stood up"),
    "no_second_person": m("No second person to lift"),
    "no_time": m("No time left"),
    "guest_present": m("Guest in the room"),
    "cannot_be_moved": m("Too heavy or stuck"),
    "not_asked": m("Not asked for this time"),
    "other": m("Other reason, see note"),
}

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

ENUMS: dict[str, dict[str, str]] = {
    "Binds": BINDS,
    "Mend": MEND,
    "BoundRule": BOUND_RULE,
    "Topic": {
        "roster": m("Rooms and beds"),
        "stays": m("Bookings"),
        "checks": m("Checks"),
        "rounds": m("Rounds"),
        "cases": m("Cases"),
        "quarantine": m("Quarantine"),
        "settings": m("Choices of the hotel"),
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
    "Sign": SIGN,
    "LifeStage": LIFE_STAGE,
    "SpecimenStep": SPECIMEN_STEP,
    "CareStep": CARE_STEP,
    "Outcome": OUTCOME,
    "Scope": {
        "house": m("Whole hotel"),
        "room_type": m("Room type"),
        "room": m("Single room"),
    },
    "StayStatus": {
        "booked": m("Booked"),
        "in_house": m("In house"),
        "left": m("Departed"),
        "cancelled": m("Cancelled"),
        "no_show": m("No-show"),
    },
    "Standing": {
        "measured": m("Measured here"),
        "published": m("Published"),
        "from_memory": m("Published, from memory"),
        "common_practice": m("Common practice, no source"),
        "assumption": m("Assumption, nobody measured it"),
        "chosen": m("Chosen by this hotel"),
    },
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
    },
    "WhyDoubtful": WHY_DOUBTFUL,
    "WhyNot": {
        "no_opening": m("Guest in the room on every day"),
        "in_quarantine": m("In quarantine"),
        "no_minutes": m("Teams have no minutes left"),
        "pinned": m("Pinned where it can't be"),
        "no_team": m("No team works on these days"),
        "too_long": m("One bed needs more than a day's minutes"),
    },
    "WhyNoTeam": {
        "closed": m("Nobody looks at beds"),
        "away": m("Every team is away"),
        "day_off": m("No team works"),
        "not_planned": m("Not planned"),
    },
    "DayKind": {
        "usual": m("As usual"),
        "free": m("Does not work"),
        "away": m("Away"),
        "changed": m("Other minutes than usual"),
        "closed": m("Closed to rounds"),
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
        "in_quarantine": m("In quarantine"),
        "guest_stays": m("Guest stays"),
        "to_do": m("To do"),
    },
    "Lack": {
        "no_roster": m("No room is known yet"),
        "no_bookings": m("No bookings were loaded yet"),
        "no_team": m("No team is described yet"),
        "not_published": m("No round is published for today"),
        "nothing_on_sheets": m("No room is on today's sheets"),
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
        "not_planned": m("Stood on no sheet"),
        "no_minutes": m("Teams had no minutes left"),
        "no_team": m("No team worked that day"),
        "in_quarantine": m("Room in quarantine"),
        "no_opening": m("Guest stayed through"),
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
    "PaperKind": PAPER_KIND,
    "StaffRole": STAFF_ROLES,
    "Sight": SIGHTS,
    "WhyRefused": {why.value: said for why, said in WHY_REFUSED.items()},
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
