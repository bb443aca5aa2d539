"""The short names of the codes of rounds: why a team is away, what hinders a move."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

AWAY = {
    "closed": m("House closed"),
    "changed": m("Away"),
    "not_its_weekday": m("Not its weekday"),
    "gone": m("Team out of use"),
    "nothing_left": m("All of its minutes are kept free"),
}
HINDRANCE = {
    "day_is_over": m("Day is over"),
    "house_closed": m("House closed"),
    "team_away": m("Team away"),
    "too_few_people": m("Too few people"),
    "in_quarantine": m("In quarantine"),
    "guest_stays": m("Guest stays"),
    "outside_shift": m("Outside the team's shift"),
    "day_forbidden": m("You said not that day"),
    "too_long": m("Too long for the team"),
    "is_done": m("Looked at already"),
}
