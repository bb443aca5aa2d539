"""All sheets of a day, one PDF a team."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from hotelwatch.actions.hotel import check_language
from hotelwatch.core.checks.calendar import Calendar
from hotelwatch.core.checks.sheet import team_sheet
from hotelwatch.core.facts import TeamName
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Progress, silent
from hotelwatch.core.rounds.team_days import is_filled_up_later, published_round
from hotelwatch.core.stays.openings import Occupancy
from hotelwatch.papers.target import team_file_names
from hotelwatch.printing.team_sheet import print_team_sheet


def print_day_sheets(
    house: House,
    occupancy: Occupancy,
    folder: Path,
    *,
    on: date,
    today: date,
    progress: Progress = silent,
) -> tuple[Path, ...]:
    """Write each team's sheet of a day into a folder; the PDFs, by team. See ``print_sheets``."""
    printed = print_sheets(house, occupancy, folder, on=on, today=today, progress=progress)
    return tuple(target for target, _ in printed)


def print_sheets(
    house: House,
    occupancy: Occupancy,
    folder: Path,
    *,
    on: date,
    today: date,
    team: str = "",
    language: str = "",
    progress: Progress = silent,
) -> tuple[tuple[Path, int], ...]:
    """Write a day's sheets, of one team or of all: each PDF with its number of pages, by team.

    Each is in its team's language unless one is named. Refused as ``_no_sheet`` says where no
    team has a room that day, ("read_only_folder") where nothing may be written, ("unknown_team"),
    ("unknown_language") and ("no_font_for_language").
    """
    check_language(language)
    of_day = sorted({slot.team for slot in house.slots.get(on, ())})
    teams = [TeamName(team)] if team else of_day
    sheets = [team_sheet(house, occupancy, on=on, team=name) for name in teams]
    sheets = [sheet for sheet in sheets if sheet.rooms or sheet.passed]
    if not sheets:
        raise _no_sheet(house, on, team, today)
    names = team_file_names(of_day)
    printed = []
    for number, sheet in enumerate(sheets):
        progress(number / len(sheets), "printing_sheets")
        target = folder / f"sheet-{on.isoformat()}-{names[sheet.team.team]}.pdf"
        try:
            folder.mkdir(parents=True, exist_ok=True)
            printed.append((target, print_team_sheet(sheet, house, target, language=language)))
        except OSError as error:
            raise Refusal("read_only_folder", path=str(target)) from error
    return tuple(printed)


def _no_sheet(house: House, on: date, team: str, today: date) -> Refusal:
    """Why there is nothing to print: nobody works, or nothing is published, fixed or planned."""
    calendar, day = Calendar(house), on.isoformat()
    closed = calendar.closed_reason(on)
    if closed is not None:
        return Refusal("no_sheet_house_closed", day=day, reason=closed)
    if team and not calendar.minutes(TeamName(team), on):
        return Refusal("no_sheet_team_away", day=day, team=team)
    if not calendar.working(on):
        return Refusal("no_sheet_nobody_works", day=day)
    told = published_round(house, on, on)
    if not told.covers(on):
        return Refusal("no_sheet", day=day)
    if is_filled_up_later(house, told, on, today):
        return Refusal("no_sheet_until_morning", day=day)
    return Refusal("no_sheet_nothing_planned", day=day)
