"""What is loaded by the import page: its fields, its actions, and its findings in words."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.house import House
from hotelwatch.core.problems import Problem
from hotelwatch.core.records import Changes
from hotelwatch.screens.look.theme import Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.intake_problems import field_name
from hotelwatch.wording.language import _
from hotelwatch.wording.names import bed_label
from hotelwatch.wording.problems import sentence

COUNT_OF = "count_of_"


class Reading(Protocol):
    """What a reader in intake gives back, as far as this page shows it."""

    @property
    def problems(self) -> tuple[Problem, ...]:
        """Everything that is wrong, by row."""

    @property
    def mapping(self) -> dict[str, str]:
        """Field to heading."""

    @property
    def headings(self) -> tuple[str, ...]:
        """Headings of the file."""

    @property
    def heading_row(self) -> int:
        """The row of the headings; 0 where none was found."""

    @property
    def sheets(self) -> tuple[str, ...]:
        """Names of the file's sheets; empty for a file without any."""

    @property
    def where(self) -> str:
        """The file, and the sheet that was read."""

    @property
    def preview(self) -> tuple[tuple[str, ...], ...]:
        """The first rows as text, by heading."""

    @property
    def rows_read(self) -> int:
        """How many rows the file has."""

    @property
    def rows_bad(self) -> int:
        """How many of them can't be taken."""


class Preview(Protocol):
    """A file as read, and what loading it would do."""

    @property
    def reading(self) -> Reading:
        """What was read."""


def _nothing(_preview: Preview) -> str:
    return ""


def _warns_of_nothing(_hotel: OpenHotel) -> str:
    return ""


@dataclass(frozen=True, slots=True)
class ImportKind:
    """What is loaded, from which fields, and by which actions."""

    title: str
    intro: str
    fields: tuple[str, ...]
    needed: frozenset[str]
    preview: Callable[..., Any]
    """(house, path, mapping, at=, [day_first=, today=]) to a Preview; runs as a job."""
    load: Callable[..., Changes]
    """(hotel, preview, *, keep_good)."""
    changes: Callable[[Any], Sequence[str]]
    """What loading a Preview would change, in sentences."""
    caution: Callable[[Any], str]
    """What a person should look at twice before loading; empty for nothing."""
    told: Callable[[House, Any], str]
    """What stands in the house after a Preview was loaded, and what went by it."""
    then: str
    """The page one goes to afterwards."""
    has_days: bool = False
    """Whether days may be written day first or month first."""
    asks: Callable[[Any], str] = _nothing
    """What a person must say of a Preview before it may be loaded; empty for nothing."""
    unchanged: Callable[[Any], str] = _nothing
    """How much of a Preview is known as it stands there; empty where it is not counted."""
    warns: Callable[[OpenHotel], str] = _warns_of_nothing
    """What of the hotel wants a person's mind once it was loaded; empty for nothing."""


@dataclass(frozen=True, slots=True)
class ProblemRow:
    """A problem in words."""

    place: int
    row: int
    column: str
    what: str
    mend: str
    blocking: bool


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """A change in words."""

    place: int
    text: str


@dataclass(frozen=True, slots=True)
class PreviewRow:
    """One of the first rows of the file."""

    place: int
    cells: tuple[str, ...]


def fields_of(kind: ImportKind, reading: Reading) -> tuple[str, ...]:
    """The kind's fields, and counts of beds that the file has columns for."""
    counts = sorted(field for field in reading.mapping if field not in kind.fields)
    return (*kind.fields, *counts)


def name_of_field(field: str) -> str:
    """What a field is called beside its choice of column."""
    if field.startswith(COUNT_OF):
        return _("Number of: {kind}").format(kind=bed_label(field.removeprefix(COUNT_OF)))
    name = field_name(field)
    return name[:1].upper() + name[1:]


def problem_rows(problems: Sequence[Problem]) -> list[ProblemRow]:
    """Problems in words, in the order given."""
    return [
        ProblemRow(place, one.row, one.column, *sentence(one), one.blocking)
        for place, one in enumerate(problems)
    ]


def cell_of(place: int, row: PreviewRow) -> str:
    """A cell of one of the first rows; empty where the row is shorter."""
    return row.cells[place] if place < len(row.cells) else ""


def problem_table() -> RowTable[ProblemRow]:
    """The list of what is wrong, and how to mend it."""
    return RowTable(
        [
            Column[ProblemRow](
                _("Row"),
                lambda row: str(row.row) if row.row else _("whole file"),
                sort=lambda row: row.row,
            ),
            Column[ProblemRow](_("Column"), lambda row: row.column),
            Column[ProblemRow](
                _("Taken?"),
                lambda row: _("no") if row.blocking else _("yes, but look"),
                tint=lambda row: Tone.LATE if row.blocking else Tone.DUE,
            ),
            Column[ProblemRow](_("What"), lambda row: row.what, wraps=True),
            Column[ProblemRow](_("How to mend it"), lambda row: row.mend, wraps=True),
        ],
        key=lambda row: row.place,
        name=_("Problems"),
        empty=Empty(_("Nothing in the file is wrong.")),
    )


def change_table() -> RowTable[ChangeRow]:
    """The list of what loading would change."""
    return RowTable(
        [Column[ChangeRow](_("What loading changes"), lambda row: row.text)],
        key=lambda row: row.place,
        name=_("Changes"),
        empty=Empty(_("Loading this file changes nothing.")),
    )
