"""Sets of local rules from a TOML file: the sets, and every problem at once.

A set is a table, its clauses are tables ``clauses.<key>`` in it. Problems name the table,
the field and its line; their codes with their values:

"rules_not_toml" (why), "rules_no_set", "rules_key" (key), "rules_no_table" (field),
"rules_field_missing" (field), "rules_field_unknown" (field, among), "rules_wrong_type"
(field, wanted: a code of Holds), "rules_odd_characters" (field), "rules_unknown_code"
(field, value, among), "rules_out_of_range" (field, value, low, high), "rules_empty" (field),
"rules_nobody_to_tell", and "rules_two_clocks" (duty), which does not keep a set from
being taken: the first clause's time counts for what is next, and each is judged.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import Any

from hotelwatch.core.problems import Problem
from hotelwatch.core.profile import Hold, Profile, Releaser
from hotelwatch.core.rule_facts import Asks, HowRead, RuleClause
from hotelwatch.core.standing import Standing
from hotelwatch.intake.rule_fields import (
    ALWAYS_NEEDED,
    CLAUSE_FIELDS,
    NEEDED,
    SET_FIELDS,
    SET_MAY_LACK,
    Field,
    Holds,
    fields_of,
)

KEY = re.compile(r"[a-z0-9_]{1,60}")
CLAUSES = "clauses"
LOWEST_CHARACTER = " "
TAKEN_ALL_THE_SAME = frozenset({"rules_two_clocks"})


@dataclass(frozen=True, slots=True)
class RulesReading:
    """What a file holds: its sets, those with a problem left out, and every problem."""

    sets: tuple[Profile, ...]
    problems: tuple[Problem, ...]

    @property
    def is_refused(self) -> bool:
        """Whether something is wrong that keeps the file from being taken."""
        return any(problem.blocking for problem in self.problems)


def read_rule_sets(text: str, name: str) -> RulesReading:
    """The sets of local rules in a TOML text; ``name`` is what problems call the file."""
    try:
        tables = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        line = re.search(r"line (\d+)", str(error))
        row = int(line[1]) if line else 0
        return RulesReading((), (Problem(name, row, "", "rules_not_toml", {"why": str(error)}),))
    if not tables:
        return RulesReading((), (Problem(name, 0, "", "rules_no_set"),))
    report = _Report(name, text)
    sets = [_set(report, key, table) for key, table in tables.items()]
    return RulesReading(tuple(one for one in sets if one is not None), tuple(report.problems))


@dataclass(slots=True)
class _Report:
    """Problems found so far, each with the line on which its field stands."""

    name: str
    text: str
    problems: list[Problem] = field(default_factory=list)
    lines: list[str] = field(init=False)

    def __post_init__(self) -> None:
        self.lines = self.text.splitlines()

    def add(self, table: str, column: str, code: str, **values: str) -> None:
        where = f"{self.name}, [{table}]"
        row = self._row(table, column)
        is_blocking = code not in TAKEN_ALL_THE_SAME
        self.problems.append(Problem(where, row, column, code, values, is_blocking))

    def _row(self, table: str, column: str) -> int:
        """The line of a field, else of its table; 0 where neither is written as such."""
        head = 0
        for number, line in enumerate(self.lines, 1):
            said = line.strip()
            if said.startswith("["):
                if head:
                    break
                head = number if said.split("#")[0].strip() == f"[{table}]" else 0
            elif head and column and re.match(rf"{re.escape(column)}\s*=", said):
                return number
        return head


def _set(report: _Report, key: str, table: object) -> Profile | None:
    before = len(report.problems)
    if not KEY.fullmatch(key):
        report.add(key, "", "rules_key", key=key)
    if not isinstance(table, dict):
        report.add(key, key, "rules_no_table", field=key)
        return None
    rows = dict(table)
    clauses = rows.pop(CLAUSES, {})
    if not isinstance(clauses, dict):
        report.add(key, CLAUSES, "rules_no_table", field=CLAUSES)
        clauses = {}
    values = {**SET_MAY_LACK, **_values(report, key, rows, SET_FIELDS)}
    for missing in [name for name in SET_FIELDS if name not in values and name not in rows]:
        report.add(key, missing, "rules_field_missing", field=missing)
    read = [_clause(report, key, name, row) for name, row in clauses.items()]
    good = tuple(clause for clause in read if clause is not None)
    _look_over(report, key, values, good)
    if any(problem.blocking for problem in report.problems[before:]):
        return None
    return _profile(key, values, good)


def _profile(key: str, values: Mapping[str, Any], clauses: tuple[RuleClause, ...]) -> Profile:
    return Profile(
        key=key,
        name=values["name"],
        ring_kinds=values["ring_kinds"],
        ring_radius=values["ring_radius"],
        hold=Hold(values["hold"]),
        confirming_signs=values["confirming_signs"],
        release_by=Releaser(values["release_by"]),
        keeps_years=values["keeps_years"],
        authority=values["authority"],
        clauses=clauses,
        standing=Standing(values["standing"]),
        source=values["source"],
        note=values["note"],
        place=values["place"],
    )


def _clause(report: _Report, rules: str, key: str, row: object) -> RuleClause | None:
    table = f"{rules}.{CLAUSES}.{key}"
    if not KEY.fullmatch(key):
        report.add(table, "", "rules_key", key=key)
        return None
    if not isinstance(row, dict):
        report.add(rules, key, "rules_no_table", field=key)
        return None
    before = len(report.problems)
    said = row.get("asks")
    asks = Asks(said) if isinstance(said, str) and said in set(Asks) else None
    fields = fields_of(asks) if asks else tuple(CLAUSE_FIELDS)
    values = _values(report, table, row, {name: CLAUSE_FIELDS[name] for name in fields})
    needed = (*ALWAYS_NEEDED, *(NEEDED.get(asks, ()) if asks else ()))
    for missing in [name for name in needed if name not in row]:
        report.add(table, missing, "rules_field_missing", field=missing)
    if any(problem.blocking for problem in report.problems[before:]):
        return None
    enums = {"asks": Asks(values["asks"]), "how_read": HowRead(values["how_read"])}
    return RuleClause(rules=rules, clause=key, **{**values, **enums})


def _look_over(
    report: _Report, key: str, values: Mapping[str, Any], clauses: tuple[RuleClause, ...]
) -> None:
    """What no field alone shows."""
    timed = [clause for clause in clauses if clause.asks is Asks.DEADLINE]
    first: dict[str, RuleClause] = {}
    for clause in timed:
        table = f"{key}.{CLAUSES}.{clause.clause}"
        if clause.duty in first:
            report.add(table, "duty", "rules_two_clocks", duty=clause.duty)
        first.setdefault(clause.duty, clause)
        if clause.duty == "tell_authority" and not (clause.to or values.get("authority")):
            report.add(table, "to", "rules_nobody_to_tell")


# --- one field -------------------------------------------------------------------------------


def _values(
    report: _Report, table: str, row: Mapping[str, object], fields: Mapping[str, Field]
) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, value in row.items():
        if name not in fields:
            among = ", ".join(fields)
            report.add(table, name, "rules_field_unknown", field=name, among=among)
            continue
        wrong = list(_wrong(name, value, fields[name]))
        for code, said in wrong:
            report.add(table, name, code, **said)
        if not wrong:
            found[name] = tuple(value) if isinstance(value, list) else value
    return found


def _wrong(name: str, value: object, wanted: Field) -> Iterator[tuple[str, dict[str, str]]]:
    if not _is_of_kind(value, wanted.holds):
        yield "rules_wrong_type", {"field": name, "wanted": str(wanted.holds)}
        return
    if not value and not wanted.may_be_empty:
        yield "rules_empty", {"field": name}
    if isinstance(value, str) and wanted.holds is Holds.TEXT:
        if any(sign < LOWEST_CHARACTER and sign != "\n" for sign in value):
            yield "rules_odd_characters", {"field": name}
        return
    if isinstance(value, int) and not wanted.low <= value <= wanted.high:
        span = {"low": str(wanted.low), "high": str(wanted.high)}
        yield "rules_out_of_range", {"field": name, "value": str(value), **span}
    codes = value if isinstance(value, list) else [value] if isinstance(value, str) else []
    for code in codes:
        if code not in wanted.among:
            among = ", ".join(wanted.among)
            yield "rules_unknown_code", {"field": name, "value": str(code), "among": among}


def _is_of_kind(value: object, holds: Holds) -> bool:
    match holds:
        case Holds.NUMBER:
            return isinstance(value, int) and not isinstance(value, bool)
        case Holds.DAY:
            return isinstance(value, date) and not isinstance(value, datetime)
        case Holds.CODES:
            return isinstance(value, list) and all(isinstance(one, str) for one in value)
    return isinstance(value, str)


def from_file(profile: Profile, *, file_name: str, sha256: str) -> Profile:
    """A set as the hotel's own: with its file's name and digest."""
    return replace(profile, file_name=file_name, sha256=sha256)
