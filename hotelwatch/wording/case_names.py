"""The short names of the codes of cases: signs, outcomes, what happens to things."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m
from hotelwatch.wording.sheet_names import ROOM_STATE

SIGN = {
    "live_insect": m("Live insect"),
    "eggs": m("Eggs or egg shells"),
    "cast_skin": m("Cast skins"),
    "dark_spots": m("Dark spots"),
    "blood_spot": m("Blood spot on linen"),
    "dead_insect": m("Dead insect"),
    "dog_alert": m("A dog alerted"),
    "bites_reported": m("Bites reported"),
    "guest_word": m("Guest's word"),
}

ALERT_FATE = {
    "open": m("Open: nobody has looked yet"),
    "confirmed": m("Confirmed"),
    "not_confirmed": m("Not confirmed"),
}
LIFE_STAGE = {
    "nymph": m("Young"),
    "adult": m("Adult"),
    "several": m("Young and adult"),
}

SPECIMEN_STEP = {
    "kept": m("Kept here"),
    "sent": m("Sent to be looked at"),
    "returned": m("Came back"),
    "discarded": m("Thrown away"),
}

CARE_STEP = {
    "luggage": m("Luggage"),
    "linen": m("Linen"),
    "cart": m("Cart"),
    "vacuum": m("Vacuum cleaner"),
    "staff_clothes": m("Clothes of those who went in"),
}

PAPER_KIND = {
    "report": m("Report"),
    "receipt": m("Receipt"),
    "notice": m("Notice"),
    "other": m("Other paper"),
}

OUTCOME = {
    "confirmed": m("Bed bug confirmed"),
    "not_bed_bug": m("Not a bed bug"),
    "undetermined": m("Could not be determined"),
}

EVIDENCE = {
    "strong": m("Strong"),
    "moderate": m("Moderate"),
    "weak": m("Weak"),
}

RING_REASONS = {"whole_floor": m("On a floor looked at whole")}

RING = {
    "Further": {
        "two_along": m("Two rooms along"),
        "two_above": m("Two floors above"),
        "two_below": m("Two floors below"),
    },
    "LinkKind": {
        "same_guests": m("Same guests"),
        "furniture": m("Furniture moved between them"),
        "same_cart": m("Same cart"),
    },
    "RoomState": ROOM_STATE,
    "Growth": {
        "no_centre": m("No ring"),
        "offer_floor": m("A whole floor instead"),
        "goes_on": m("Goes on"),
        "clean_as_asked": m("Nothing found where asked"),
        "clean_ring": m("Whole ring looked at"),
        "called_off": m("Called off"),
    },
}

DUTIES_AND_RULES = {
    "SignClass": {
        "suspected": m("Suspected"),
        "old_sign": m("Perhaps an old sign"),
        "infestation_by_rule": m("Counts as an infestation here"),
    },
    "LifeKind": {"eggs": m("Eggs"), "adults": m("Grown insects")},
    "Method": {"heat": m("Heat"), "cold": m("Cold")},
    "EggsUnknown": {
        "too_cold": m("Too cold to say"),
        "too_warm": m("Too warm to say"),
        "species": m("Not known for this species"),
    },
    "DueBy": {
        "evaluation": m("The treatment is evaluated by then"),
        "eggs": m("Afterwards a new female could lay"),
        "visit": m("Usual follow-up visit"),
        "count": m("A further clean check counts"),
        "watch": m("Afterwards the room is not covered"),
    },
    "ReleasePath": {
        "judgement": m("To be judged first"),
        "nothing": m("No bed bug"),
        "looks": m("Clean checks"),
        "held": m("Closed as a neighbour"),
        "treated": m("Treatment, then clean checks"),
    },
    "DutyState": {
        "late": m("Late"),
        "due": m("Has a deadline"),
        "ready": m("Can be done now"),
        "waits": m("Its day has not come"),
    },
    "Role": {
        "housekeeper": m("Executive housekeeper"),
        "team": m("A team of two"),
        "competent_person": m("Competent person"),
        "firm": m("Licensed firm"),
        "front_desk": m("Front desk"),
    },
    "ForGuest": {
        "change_booking": m("Change the booking"),
        "move": m("Move the guest"),
        "give_any_other": m("Give any other room"),
        "look_or_change": m("Look first, or change the room"),
        "change_room": m("Change the room"),
    },
    "BlockKind": {
        "closed": m("Not to sell until given back"),
        "held": m("A look, then sold"),
    },
    "Hold": {
        "hold": m("Close them too"),
        "inspect_then_sell": m("Not let before somebody has looked"),
        "inspect": m("Look by the deadline, let meanwhile"),
    },
    "Releaser": {
        "hotel": m("The hotel's named person"),
        "licensed": m("The licensed firm"),
        "health_officer": m("The health officer"),
    },
    "Start": {
        "sighting": m("From the first sign"),
        "report": m("From the guest's word"),
        "confirmation": m("From the confirmation"),
        "treatment": m("From the last treatment"),
    },
    "Unit": {
        "hours": m("Hours"),
        "calendar_days": m("Calendar days"),
        "business_days": m("Business days"),
        "working_days": m("Days on which the house works"),
    },
}
