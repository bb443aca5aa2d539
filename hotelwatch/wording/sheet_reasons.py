"""Why a room is on a team's sheet and when it can be entered, to follow a label.

All of this module is translated; see resources/translations.
"""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

NEIGHBOUR_SHORT = {
    "shares_wall": m("shares a wall with {source}"),
    "above": m("above {source}"),
    "below": m("below {source}"),
    "across": m("across the corridor from {source}"),
    "connects": m("has a connecting door to {source}"),
    "same_suite": m("in the same suite as {source}"),
    "two_along": m("second room along from {source}"),
    "two_above": m("two floors above {source}"),
    "two_below": m("two floors below {source}"),
    "same_guests": m("had the same guests as {source}"),
    "furniture": m("furniture moved between it and {source}"),
    "same_cart": m("served by the same cart as {source}"),
    "whole_floor": m("on the floor of {source}, all of which is looked at"),
    "sighting": m("the room itself"),
    "neighbour_found": m("the room itself, looked at as a neighbour"),
    "follow_up": m("followed up, clean checks are counted"),
    "follow_up_whole": m("followed up: every place, dust cover and corner caps too"),
}

OPENING = {
    "all_day": m("vacant all day"),
    "after_departure": m("after {from_clock}, when the guest has left"),
    "before_arrival": m("before {until_clock}, when the next guest comes"),
    "turnover": m("between {from_clock} and {until_clock}"),
    "arranged": m("between {from_clock} and {until_clock}, as agreed with the guest"),
    "after_reentry": m("not before {from_clock}: it was treated; until {until_clock}"),
}

STAYS = m("guest stays: ask before entering")
