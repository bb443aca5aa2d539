"""All sheets of a day, one PDF a team."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from hotelwatch.core.checks.sheet import team_sheet
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.stays.openings import Occupancy
from hotelwatch.printing.team_sheet import print_team_sheet


def print_day_sheets(
    house: House, occupancy: Occupancy, folder: Path, *, on: date
) -> tuple[Path, ...]:
    """Write each team's sheet of a day into a folder; the PDFs, by team.

    Refusal("no_sheet") where no team has a room that day, Refusal("read_only_folder")
    where nothing may be written.
    """
    teams = sorted({slot.team for slot in house.slots.get(on, ())})
    sheets = [team_sheet(house, occupancy, on=on, team=team) for team in teams]
    sheets = [sheet for sheet in sheets if sheet.rooms]
    if not sheets:
        raise Refusal("no_sheet", day=on.isoformat())
    printed = []
    for sheet in sheets:
        target = folder / f"sheet-{on.isoformat()}-{_file_name(sheet.team.team)}.pdf"
        try:
            folder.mkdir(parents=True, exist_ok=True)
            print_team_sheet(sheet, house, target)
        except OSError as error:
            raise Refusal("read_only_folder", path=str(target)) from error
        printed.append(target)
    return tuple(printed)


def _file_name(text: str) -> str:
    return "".join(char if char.isalnum() else "-" for char in text.lower())
