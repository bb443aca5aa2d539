"""What is wrong with input and what is not allowed now, as sentences: what, and how to mend it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date, datetime

from hotelwatch.core.problems import Problem, Refusal
from hotelwatch.wording.dates import day_text, month_text
from hotelwatch.wording.intake_problems import INTAKE_PROBLEMS, field_name
from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.lethal import PROBE_PROBLEMS
from hotelwatch.wording.names import label
from hotelwatch.wording.people import role_text, roles_text, sight_text
from hotelwatch.wording.refusals import REFUSALS, Pair
from hotelwatch.wording.retention import mangled_text
from hotelwatch.wording.rule_problems import RULE_PROBLEMS, wanted_text
from hotelwatch.wording.sheet_names import PLACES

UNNUMBERED = "row-"
"""How the reference begins that the reader makes for a booking without a number."""
FIELDS = {
    "method": m("method"),
    "firm": m("licensed firm"),
    "licence": m("number of the licence"),
    "reenter_at": m("time from which the room may be entered"),
}


def sentence(problem: Problem) -> Pair:
    """What is wrong with a place in a file, and how to mend it."""
    known = {**INTAKE_PROBLEMS, **PROBE_PROBLEMS, **RULE_PROBLEMS}
    return _pair(known, problem.code, problem.values)


def refusal_sentence(refusal: Refusal) -> Pair:
    """What is not allowed now, and what would allow it."""
    return _pair({**INTAKE_PROBLEMS, **REFUSALS}, refusal.code, refusal.values)


def place_in_file(problem: Problem) -> str:
    """Where a problem is, as a person counts in the file."""
    if problem.row and problem.column:
        return _("{where}, row {row}, column “{column}”").format(
            where=problem.where, row=problem.row, column=problem.column
        )
    if problem.row:
        return _("{where}, row {row}").format(where=problem.where, row=problem.row)
    if problem.column:
        return _("{where}, column “{column}”").format(where=problem.where, column=problem.column)
    return problem.where


def _pair(table: Mapping[str, Pair], code: str, values: Mapping[str, str]) -> Pair:
    unknown = (
        _("This is not possible: {code}."),
        _("Nothing was written down. Please report this code to whoever looks after the program."),
    )
    said = {key: _said(key, value) for key, value in values.items()}
    what, mend = table.get(code, unknown)
    lacking = _Lacking(said, code=code)
    return _(what).format_map(lacking), _(mend).format_map(lacking)


ALSO_CALLED = {"file": "path", "folder": "path"}
"""A name in a sentence, and the value that may stand for it."""


class _Lacking(dict[str, str]):
    """Values of a sentence; one that was not given shows as three dots."""

    def __missing__(self, key: str) -> str:
        return self.get(ALSO_CALLED.get(key, ""), "…")


def _said(key: str, value: str) -> str:
    say = _SAY.get(key)
    try:
        return say(value) if say else value
    except ValueError:
        return value


def _place(text: str) -> str:
    code = text.partition(":")[0]
    return label(code) if code in PLACES else code


def _day(text: str) -> str:
    return day_text(date.fromisoformat(text))


def _moment(text: str) -> str:
    moment = datetime.fromisoformat(text)
    # An offset tells a person nothing: a moment by the hotel's own clock stands bare.
    zone = "" if moment.utcoffset() else f"{moment: %Z}".rstrip()
    return f"{day_text(moment.date())}, {moment:%H:%M}{zone}"


def booking_text(booking: str) -> str:
    """A booking's number; of one without, that it has none."""
    return _("without a number") if booking.startswith(UNNUMBERED) else booking


def _field(text: str) -> str:
    return _(FIELDS[text]) if text in FIELDS else field_name(text)


def _kinds(text: str) -> str:
    """Kinds of bed as a roster writes them: "box spring", not "box_spring"."""
    return text.replace("_", " ").replace(",", ", ").replace(",  ", ", ")


_SAY: Mapping[str, Callable[[str], str]] = {
    "place": _place,
    "day": _day,
    "from_on": _day,
    "until_on": _day,
    "moment": _moment,
    "month": month_text,
    "arrival": _day,
    "departure": _day,
    "known": _kinds,
    "field": _field,
    "action": label,
    "mangled": mangled_text,
    "role": role_text,
    "roles": roles_text,
    "sight": sight_text,
    "later_action": label,
    "booking": booking_text,
    "other_booking": booking_text,
    "wanted": wanted_text,
}
