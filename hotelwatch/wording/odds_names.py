"""The short name of every code of the odds: stances, who finds it, steps, measures, surveys."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

COUNTED = {
    "infested_nights": m("Room nights with insects that nobody has found"),
    "guests_exposed": m("Stays in such rooms"),
    "nights_lost": m("Room nights closed after finds"),
    "found_by_check": m("Found by a check"),
    "found_by_ring": m("Found next to a find"),
    "found_by_follow_up": m("Found by a follow-up"),
    "found_by_bed_making": m("Found by whoever makes the bed"),
    "found_by_traps": m("Found by traps"),
    "found_by_guest": m("Found by a guest"),
    "looks": m("Deep looks"),
    "brought_in": m("Brought in by guests"),
    "spread": m("Spread from room to room"),
    "survived": m("Treatments that left some alive"),
}
ODDS = {
    "Stance": {
        "cautious": m("Cautious"),
        "central": m("Central"),
        "optimistic": m("Optimistic"),
    },
    "Finder": {
        "check": m("A check"),
        "traps": m("Traps"),
        "glance": m("Whoever makes the bed"),
        "guest": m("A guest"),
        "nobody": m("Nobody yet"),
    },
    "Step": {
        "shorter": m("A shorter cycle"),
        "cover": m("Dust cover up"),
        "headboard": m("Headboard off"),
        "encasing": m("Encasing"),
        "traps": m("Traps under the beds"),
        "longer": m("More minutes a look"),
    },
    "Fit": {
        "fits": m("Can be kept"),
        "open": m("Depends on the cycles"),
        "too_many": m("Cannot be kept"),
    },
    "Measure": {
        **COUNTED,
        "hours": m("Hours of one person"),
        "money": m("Money in all"),
        "finds": m("Finds"),
    },
    "OfFinds": {
        "middle_insects": m("Half of the finds: insects, at most"),
        "many_insects": m("Nine in ten finds: insects, at most"),
        "nights_unfound": m("Nights until a find, in the mean"),
    },
    "Count": {**COUNTED, "minutes": m("Minutes of a team")},
    "FoundBy": {
        "deep_check": m("Deep check"),
        "asked_check": m("Check that a case asked for"),
        "brief_look": m("Brief look"),
        "after_treatment": m("Look after a treatment"),
        "trap": m("Trap"),
        "dog": m("Dog"),
        "guest": m("Guest"),
        "firm": m("Firm that treats"),
        "staff": m("Bed-making or other staff"),
    },
    "LeftOver": {
        "outlived": m("More likely left over"),
        "anew": m("More likely came in anew"),
        "cannot_tell": m("Left over or anew: the settings disagree"),
    },
    "GroupOf": {
        "room": m("One room"),
        "stack": m("Rooms above one another"),
        "wing": m("Wing"),
    },
    "SurveyLook": {
        "sheet": m("As the sheet asks"),
        "cover": m("Dust covers opened as well"),
        "headboard": m("Headboards off as well"),
        "full": m("Dust covers opened and headboards off"),
    },
    "SurveyOrder": {
        "odds": m("Where it tells most a minute"),
        "lot": m("Drawn by lot"),
    },
}
"""By the name of the enum."""
