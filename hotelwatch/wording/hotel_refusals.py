"""Why the hotel, its cycle, its stairs or its teams can't be described so, and how to mend it."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

HOTEL: dict[str, tuple[str, str]] = {
    "hotel_needs_name": (m("The hotel has no name."), m("Give the hotel a name.")),
    "unknown_paper": (m("Paper {paper} is not known."), m("Choose A4 or Letter.")),
    "unknown_zone": (
        m("Time zone {zone} is not known."),
        m("Give its name in the IANA list, such as Europe/Vienna or America/Chicago."),
    ),
    "unknown_clock_time": (
        m("{clock} is no clock time."),
        m("Write hours and minutes, as 11:00."),
    ),
    "no_time_between_guests": (
        m("Guests would arrive before those who leave are gone."),
        m("Let departures end before arrivals begin, as 11:00 and 15:00."),
    ),
    "zone_of_closed_months": (
        m("The hotel's time zone stays {zone}: months are closed that count their days by it."),
        m("Leave the zone as it is. If it is wrong, write so in the notes of the next month."),
    ),
    "cycle_out_of_range": (
        m("A cycle of {days} days is not possible."),
        m("Choose from 1 to {most} days; for a room, risk or room type 0 takes the choice back."),
    ),
    "unknown_room": (
        m("There is no room {room} in use."),
        m("Look at the room's label in the roster, with every zero that it begins with."),
    ),
    "unknown_room_type": (
        m("No room is of type {room_type}."),
        m("Choose a type that the roster has."),
    ),
    "unknown_risk": (
        m("{risk} is no risk that rooms can be placed in."),
        m("Choose higher or lower; rooms that are not named are of the usual risk."),
    ),
    "unknown_bed": (
        m("There is no bed {bed} in room {room}."),
        m("Look at the room's beds in the roster."),
    ),
    "unknown_weekday": (
        m("{day} is no weekday."),
        m("Write mon, tue, wed, thu, fri, sat or sun."),
    ),
    "two_floors_on_a_level": (
        m("Two floors were put on the same level."),
        m("Give each floor its own level, counted from the bottom."),
    ),
    "stair_needs_name": (
        m("A stair or lift has no name."),
        m("Give it the name that people use for it."),
    ),
    "two_stairs_of_a_name": (
        m("Two stairs or lifts are called {stair}."),
        m("Give each its own name."),
    ),
    "unknown_stair": (
        m("There is no stair or lift {stair}."),
        m("Write its name as it was written down."),
    ),
    "unknown_wing": (
        m("No room lies in wing {wing}, where {stair} is said to be."),
        m("Write the wing as in the roster."),
    ),
    "stair_before_wing": (
        m("{stair} can't lie before its wing begins, nor nowhere."),
        m("Give the metres from where the corridor begins, 0 or more."),
    ),
    "team_needs_name": (m("The team has no name."), m("Give the team a name.")),
    "team_needs_people": (
        m("Team {team} has no people."),
        m("Give it at least one person; standing a bed takes two."),
    ),
    "team_minutes_out_of_range": (
        m("The minutes a day of team {team} are not possible."),
        m("Choose from 1 to {most} minutes."),
    ),
    "kept_free_out_of_range": (
        m("Team {team} can't keep so many of its {minutes} minutes free."),
        m("Keep fewer than it has a day; 0 keeps none."),
    ),
    "clock_goes_back": (
        m("From {from_clock} to {until_clock} there is no time."),
        m("Write the earlier clock time first, both of one day."),
    ),
    "unknown_team": (
        m("There is no team {team}."),
        m("Look up the team's name among the hotel's teams."),
    ),
    "no_team": (
        m("The hotel has no team, so nothing can be planned."),
        m("Add a team with its people, its minutes a day and the days it works."),
    ),
}
