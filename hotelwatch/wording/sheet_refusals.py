"""Why a sheet was not printed, and what would let it be."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

SHEETS: dict[str, tuple[str, str]] = {
    "unknown_language": (
        m("There are no sheets in the language “{language}”."),
        m("Choose one of these: {codes}."),
    ),
    "no_font_for_language": (
        m("No font of this computer has every sign of {language} ({signs} …)."),
        m("Nothing was printed. Install a font that has them: README, “Run it”, names one."),
    ),
    "no_sheet": (
        m("No round is published for {day}."),
        m("Plan and publish a round for that day first."),
    ),
    "no_sheet_house_closed": (
        m("There are no rounds on {day}: {reason}."),
        m("Choose another day, or open the house that day again."),
    ),
    "no_sheet_nobody_works": (
        m("No team works on {day}."),
        m("Choose another day, or give a team a shift on it."),
    ),
    "no_sheet_team_away": (
        m("Team {team} does not work on {day}."),
        m("Choose another day, or give the team a shift on it."),
    ),
    "no_sheet_until_morning": (
        m("Nothing is fixed for {day} yet; its morning fills it up."),
        m("Plan and publish on that morning; or publish the whole now, likely visits too."),
    ),
    "no_sheet_nothing_planned": (
        m("The round that is published has no room for the sheet on {day}."),
        m("Plan again: what became due since is counted in."),
    ),
    "nothing_to_look_at": (
        m("Case {case} wants no room looked at now."),
        m("Its list, “Other rooms”, says how each of its rooms stands."),
    ),
}
