"""Teams, wings and stairs from a small table, as those in demo_hotel show."""

from __future__ import annotations

from collections.abc import Callable
from datetime import time
from pathlib import Path
from typing import TypeVar

from hotelwatch.core.facts import TeamDescribed, TeamName, WingPlaced
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import Climb, StairPlaced
from hotelwatch.intake.cells import fold, shown
from hotelwatch.intake.tables import Row, read_table

TEAM_HEADINGS = ("team", "people", "minutes", "works_on")
SHIFT_HEADINGS = ("shift_from", "shift_until", "kept_free", "language")
"""Columns of a table of teams that may be missing, and cells of it that may be empty."""
WING_HEADINGS = ("wing", "x_m", "y_m", "bearing_deg")
STAIR_HEADINGS = ("name", "wing", "along_m", "kind")
T = TypeVar("T")


def read_teams(path: Path) -> tuple[TeamDescribed, ...]:
    """Teams of a table with the headings team, people, minutes and works_on.

    It may have shift_from and shift_until (as 08:00), kept_free (minutes) and language besides.
    Refusal("settings_heading_missing") or ("settings_row_wrong") names the place.
    """

    def team(cells: dict[str, str]) -> TeamDescribed:
        return TeamDescribed(
            TeamName(cells["team"]),
            int(cells["people"]),
            int(cells["minutes"]),
            tuple(cells["works_on"].replace(",", " ").lower().split()),
            from_clock=_clock(cells["shift_from"]),
            until_clock=_clock(cells["shift_until"]),
            kept_free=int(cells["kept_free"] or 0),
            language=cells["language"],
        )

    return _read(path, TEAM_HEADINGS, team, may_have=SHIFT_HEADINGS)


def read_wings(path: Path) -> tuple[WingPlaced, ...]:
    """Wings of a table with the headings wing, x_m, y_m and bearing_deg (metres, degrees)."""

    def wing(cells: dict[str, str]) -> WingPlaced:
        x_m, y_m, bearing = (float(cells[name]) for name in WING_HEADINGS[1:])
        return WingPlaced(cells["wing"], x_m, y_m, bearing)

    return _read(path, WING_HEADINGS, wing)


def read_stairs(path: Path) -> tuple[StairPlaced, ...]:
    """Stairs and lifts of a table with the headings name, wing, along_m (metres) and kind."""

    def stair(cells: dict[str, str]) -> StairPlaced:
        kind = Climb(cells["kind"].lower())
        return StairPlaced(cells["name"], cells["wing"], float(cells["along_m"]), kind)

    return _read(path, STAIR_HEADINGS, stair)


def _clock(text: str) -> str:
    """A clock time as "HH:MM"; empty where none is said. ValueError if it is none."""
    if not text:
        return ""
    hour, minute, *_seconds = text.split(":")
    return f"{time(int(hour), int(minute)):%H:%M}"


def _read(
    path: Path,
    headings: tuple[str, ...],
    make: Callable[[dict[str, str]], T],
    *,
    may_have: tuple[str, ...] = (),
) -> tuple[T, ...]:
    by_folded = {fold(heading): heading for heading in (*headings, *may_have)}
    table = read_table(path, lambda text: fold(text) in by_folded)
    named = {by_folded[fold(h)]: h for h in table.headings if fold(h) in by_folded}
    if lost := [heading for heading in headings if heading not in named]:
        raise Refusal("settings_heading_missing", file=path.name, heading=", ".join(lost))

    def cells(row: Row) -> dict[str, str]:
        said = {name: shown(row.cell(heading)).strip() for name, heading in named.items()}
        return dict.fromkeys(may_have, "") | said

    made: list[T] = []
    for row in table.rows:
        try:
            made.append(make(cells(row)))
        except ValueError as error:
            raise Refusal(
                "settings_row_wrong", file=path.name, row=str(row.number), reason=str(error)
            ) from error
    return tuple(made)
