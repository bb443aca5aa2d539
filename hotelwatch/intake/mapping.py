"""Which column means what: found by synonyms, or as the person says."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from hotelwatch.core.problems import Problem
from hotelwatch.intake.cells import Cell, Mark, as_number, fold, shown
from hotelwatch.intake.codes import TableCode
from hotelwatch.intake.tables import Row, Table


def mapped(table: Table, meanings: Mapping[str, str]) -> dict[str, str]:
    """Field → heading, by synonyms; the first column that fits a field is taken."""
    found: dict[str, str] = {}
    for heading in table.headings:
        for text in (heading, table.under.get(heading, "")):
            meaning = meanings.get(fold(text))
            if meaning and meaning not in found:
                found[meaning] = heading
                break
    return found


def mapping_problems(
    table: Table,
    mapping: Mapping[str, str],
    needed: Collection[str],
    people: frozenset[str] = frozenset(),
) -> list[Problem]:
    """What is wrong with a mapping: headings that are not there, fields that are needed."""
    problems: list[Problem] = []

    def say(code: TableCode, column: str, **values: str) -> None:
        problems.append(Problem(table.where, table.heading_row, column, code, values))

    if not table.heading_row and not mapping:
        say(TableCode.NO_HEADINGS, "", file=table.file)
        return problems
    for name, heading in mapping.items():
        if fold(heading) in people:
            say(TableCode.COLUMN_ABOUT_PEOPLE, heading, field=name, heading=heading)
        elif heading not in table.headings:
            say(TableCode.HEADING_UNKNOWN, heading, field=name, heading=heading)
    for name in needed:
        if name not in mapping:
            say(TableCode.FIELD_MISSING, "", field=name)
    if not table.rows:
        say(TableCode.NO_ROWS, "", file=table.file)
    return problems


@dataclass(slots=True)
class RowCells:
    """One row being read: its cells by field, and the problems found so far."""

    where: str
    row: Row
    mapping: Mapping[str, str]
    problems: list[Problem] = field(default_factory=list)

    def say(self, code: str, name: str, **values: str) -> None:
        """Note a problem with a field that keeps this row out."""
        self._add(code, name, values, blocking=True)

    def note(self, code: str, name: str, **values: str) -> None:
        """Note something about a field that a person should know; the row is taken."""
        self._add(code, name, values, blocking=False)

    def _add(self, code: str, name: str, values: dict[str, str], *, blocking: bool) -> None:
        column = self.mapping.get(name, "")
        problem = Problem(self.where, self.row.number, column, code, values, blocking=blocking)
        # A cell may be asked for twice; what is wrong with it is said once.
        if problem not in self.problems:
            self.problems.append(problem)

    def cell(self, name: str) -> Cell:
        """The field's cell; a formula without a value is noted and reads as empty."""
        cell = self.row.cell(self.mapping[name]) if name in self.mapping else ""
        if isinstance(cell, Mark):
            is_empty = cell is Mark.NO_VALUE
            code = TableCode.FORMULA_WITHOUT_VALUE if is_empty else TableCode.FORMULA_ERROR
            self.say(code, name, field=name)
            return ""
        return cell

    def text(self, name: str) -> str:
        """The field's text; a date is noted and reads as empty."""
        cell = self.cell(name)
        if isinstance(cell, str):
            return cell
        self.say(TableCode.DATE_IN_CELL, name, field=name, value=shown(cell))
        return ""

    def number(self, name: str, low: float, high: float) -> float | None:
        """The field's number if it says one within these bounds; what is not, is noted."""
        text = self.text(name)
        if not text:
            return None
        number = as_number(text)
        if number is None:
            self.say(TableCode.NOT_A_NUMBER, name, field=name, value=text)
        elif not low <= number <= high:
            bounds = {"low": f"{low:g}", "high": f"{high:g}"}
            self.say(TableCode.NUMBER_ABSURD, name, field=name, value=text, **bounds)
        else:
            return number
        return None

    def whole(self, name: str, low: int, high: int) -> int | None:
        """The field's whole number within these bounds."""
        number = self.number(name, low, high)
        if number is None:
            return None
        if number != int(number):
            self.say(TableCode.NOT_A_NUMBER, name, field=name, value=self.text(name))
            return None
        return int(number)

    @property
    def is_good(self) -> bool:
        """Whether nothing found so far keeps the row out."""
        return not any(problem.blocking for problem in self.problems)
