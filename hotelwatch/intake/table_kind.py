"""Which kind of table a file holds: told by its headings alone, no row is read further."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from pathlib import Path

from hotelwatch.intake.cells import fold
from hotelwatch.intake.grids import Grid
from hotelwatch.intake.probe_file import guessed, headings_of_probes
from hotelwatch.intake.roster_file import NEEDED
from hotelwatch.intake.settings_files import STAIR_HEADINGS, TEAM_HEADINGS, WING_HEADINGS
from hotelwatch.intake.tables import heading_row_of, headings_of, read_grids, read_table
from hotelwatch.intake.words import shipped_words


class TableKind(StrEnum):
    """What a table can be loaded as."""

    ROSTER = "roster"
    BOOKINGS = "bookings"
    TEAMS = "teams"
    WINGS = "wings"
    STAIRS = "stairs"
    PROBES = "probes"
    """A log of probes, which belongs to a treated room of a case."""


SETTINGS = {
    TableKind.TEAMS: TEAM_HEADINGS,
    TableKind.WINGS: WING_HEADINGS,
    TableKind.STAIRS: STAIR_HEADINGS,
}


def kinds_of(path: Path) -> frozenset[TableKind]:
    """What a file may be: one kind, both, or none where its headings say nothing.

    Raises Refusal with a FileCode where the file can't be read at all.
    """
    words = shipped_words()

    def is_known(text: str) -> bool:
        return words.is_roster_heading(text) or words.is_stays_heading(text)

    kinds: set[TableKind] = set()
    for grid in read_grids(path, is_known):
        row = heading_row_of(grid, is_known)
        if _fields(grid, row, words.roster).issuperset(NEEDED):
            kinds.add(TableKind.ROSTER)
        stays = _fields(grid, row, words.stays)
        if "arrival" in stays and stays & {"departure", "nights"}:
            kinds.add(TableKind.BOOKINGS)
    return frozenset(kinds)


def _fields(grid: Grid, row: int, meanings: Mapping[str, str]) -> set[str]:
    folded = (fold(heading) for heading in headings_of(grid, row)) if row else ()
    return {meanings[text] for text in folded if text in meanings}


def settings_kind(path: Path) -> TableKind | None:
    """Whether a file holds teams, wings, stairs, or a log of probes; None if none of them."""
    for kind, needed in SETTINGS.items():
        wanted = {fold(heading) for heading in needed}
        table = read_table(path, lambda text, wanted=wanted: fold(text) in wanted)  # type: ignore[misc]
        if wanted <= {fold(heading) for heading in table.headings}:
            return kind
    told = guessed(headings_of_probes(path))
    return TableKind.PROBES if told.times and told.unit else None
