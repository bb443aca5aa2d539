"""The short names of the codes of rounds: why a team is away, what hinders a move."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

AWAY = {
    "closed": m("No rounds"),
    "changed": m("Away"),
    "not_its_weekday": m("Day off"),
    "gone": m("Team no longer used"),
    "nothing_left": m("All of its minutes are in reserve"),
}
HINDRANCE = {
    "day_is_over": m("Day is over"),
    "house_closed": m("No rounds that day"),
    "team_away": m("Team away"),
    "too_few_people": m("Too few people"),
    "in_quarantine": m("In quarantine"),
    "guest_stays": m("Guest stays"),
    "too_soon": m("Treated, not to be entered yet"),
    "outside_shift": m("Outside the team's shift"),
    "day_forbidden": m("You said not that day"),
    "too_long": m("Too long for the team"),
    "day_too_short": m("Too much for the team's day"),
    "is_done": m("Looked at already"),
    "comes_again": m("Its first look comes before"),
}

BINDS = {
    "in_quarantine": m("In quarantine"),
    "no_opening": m("Can't be entered in time"),
    "forbidden": m("Days forbidden by hand"),
    "pinned": m("Pinned elsewhere"),
    "agreed_later": m("Guest agreed to a later day"),
    "looked_today": m("Tried today, but not whole"),
    "no_team": m("No team with enough people"),
    "house_closed": m("No rounds in the house"),
    "outside_shifts": m("Outside the shifts"),
    "too_long": m("Too long for a team's day"),
    "spent_today": m("Today's minutes are spent"),
    "hours_too_short": m("Hours too short"),
    "too_early": m("Can be entered only soon after its last look"),
    "minutes": m("Too few minutes"),
    "people": m("Too few minutes of large enough teams"),
    "whole_rooms": m("Fits only in parts"),
    "put_off": m("Put off by the plan"),
}

MEND = {
    "keep_free": m("Keep a room free"),
    "team_days": m("More team-days"),
    "longer_window": m("Shifts when rooms can be entered"),
    "encase": m("Encase beds"),
    "longer_cycle": m("A longer cycle"),
}

WHY_DOUBTFUL = {
    "house_closed": m("No rounds that day"),
    "nobody_works": m("Nobody works that day"),
    "team_off": m("Team off that day"),
    "too_few_people": m("Too few people"),
    "too_few_minutes": m("Too few minutes"),
    "hours_too_short": m("Hours too short"),
    "guest_stays": m("Guest stays"),
    "in_quarantine": m("Room in quarantine"),
}
