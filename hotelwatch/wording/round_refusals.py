"""What is not allowed with calendars, agreed visits and a hand on the plan, and how to mend it."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

ROUNDS: dict[str, tuple[str, str]] = {
    "span_goes_back": (
        m("The days would end before {day}, on which they begin."),
        m("Write the first day first."),
    ),
    "span_too_long": (
        m("More than {most} days at once are not possible."),
        m("Write down one year after the other."),
    ),
    "closing_needs_reason": (
        m("It is not said why nobody looks at beds on these days."),
        m("Name the holiday, or what the house is closed for."),
    ),
    "season_needs_name": (m("The season has no name."), m("Name it, as warm nights 2027.")),
    "season_out_of_range": (
        m("The cycle can't run so much faster."),
        m("Choose from 1 to {most} percent."),
    ),
    "unknown_season": (
        m("There is no season {season} to drop."),
        m("Look up its name in the list of seasons."),
    ),
    "furniture_needs_name": (
        m("It is not said what was moved."),
        m("Name it in a word or two, as headboard or armchair."),
    ),
    "same_room": (
        m("Nothing can be moved from room {room} to room {room}."),
        m("Name the room it left and the room it came to."),
    ),
    "day_is_over": (m("{day} is over."), m("Choose today or a later day.")),
    "hours_are_over": (
        m("Today it is past {clock} already."),
        m("Agree on a later hour, or on another day."),
    ),
    "day_is_forbidden": (
        m("{day} is forbidden for room {room}."),
        m("Allow the day again first, or choose another one."),
    ),
    "day_is_pinned": (
        m("Room {room} is pinned to {day}."),
        m("Take the pin away first, or forbid another day."),
    ),
    "day_not_forbidden": (
        m("{day} is not forbidden for room {room}."),
        m("Look up which days are forbidden for it."),
    ),
    "nothing_pinned": (
        m("Room {room} has no pin to take away."),
        m("Look up the pins: one lapses once its room was looked at, or its day is past."),
    ),
    "who_asked_missing": (
        m("Nobody is named who asked the guest."),
        m("Name who of the staff asked; no guest's name."),
    ),
    "asked_later_than_today": (
        m("{day} is yet to come: no guest can have been asked then."),
        m("Name the day on which the guest was asked: today or an earlier one."),
    ),
    "guest_yet_to_come": (
        m("The guest of room {room} on {day} comes only on {arrival}, and can't have agreed."),
        m("Ask once the guest is there, then write it down."),
    ),
    "no_visit_arranged": (
        m("No visit to room {room} is arranged for {day}."),
        m("Look up the room and the day among the arranged visits."),
    ),
    "night_needs_reason": (
        m("It is not said why room {room} should be kept free."),
        m("Give front desk the reason in a few words."),
    ),
    "night_not_asked": (
        m("Front desk was not asked to keep room {room} free on the night of {day}."),
        m("Look up the room and the night among those asked for."),
    ),
    "who_answered_missing": (
        m("Nobody is named who answered for front desk."),
        m("Name who decides there."),
    ),
}
