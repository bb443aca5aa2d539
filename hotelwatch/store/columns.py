"""How a field of a fact stands in its column, and how it comes back."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields, replace
from datetime import UTC, date, datetime
from enum import StrEnum
from typing import Annotated, Any, NewType, get_args, get_origin, get_type_hints

from sqlite_utils.db import quote_identifier

from hotelwatch.core.facts import WordSort

Cell = str | int | float | None
"""What SQLite holds."""


@dataclass(frozen=True)
class Column:
    """A field's column: its declaration, the way in and the way out."""

    name: str
    declared: str
    encode: Callable[[Any], Cell]
    """TypeError or ValueError where the value would not come back the same."""
    decode_all: Callable[[Iterable[Any]], Iterable[Any]]
    sort: WordSort | None = None
    """What kind of words it holds, if they expire: see ``store.words``."""

    @property
    def is_several(self) -> bool:
        """Whether it holds several texts, with a line break between them."""
        return self.encode is _from_codes


def column_of(name: str, hint: Any) -> Column:  # noqa: ANN401
    """The column of a field with that type. TypeError if the store has no form for it."""
    if get_origin(hint) is Annotated:
        plain, sort = get_args(hint)
        return replace(column_of(name, plain), sort=sort)
    while isinstance(hint, NewType):
        hint = hint.__supertype__
    quoted = quote_identifier(name)
    if get_origin(hint) is tuple and get_args(hint) in ((str, ...), (float, ...)):
        if get_args(hint)[0] is float:
            return Column(name, f"{quoted} TEXT NOT NULL", _from_floats, _to_floats)
        return Column(name, f"{quoted} TEXT NOT NULL", _from_codes, _to_codes)
    if isinstance(hint, type) and issubclass(hint, StrEnum):
        listed = ", ".join(f"'{member}'" for member in hint)
        declared = f"{quoted} TEXT NOT NULL CHECK ({quoted} IN ({listed}))"
        return Column(name, declared, _from_enum(hint), _to_enum(hint))
    if hint not in _PLAIN:
        raise TypeError(f"{name}: no column for a {hint}")
    declared, encode, decode_all = _PLAIN[hint]
    return Column(name, f"{quoted} {declared.format(quoted)}", encode, decode_all)


def columns_of(kind: type) -> tuple[Column, ...]:
    """A dataclass's fields as columns."""
    hints = get_type_hints(kind, include_extras=True)
    return tuple(column_of(field.name, hints[field.name]) for field in fields(kind))


def moment_text(moment: datetime) -> str:
    """A moment as the file has it: ISO 8601, UTC, ending in Z. ValueError if not aware."""
    if moment.tzinfo is None:
        raise ValueError("a moment needs its zone")
    return moment.astimezone(UTC).replace(tzinfo=None).isoformat() + "Z"


def moment_of(text: str) -> datetime:
    """The moment that a text of the file names."""
    return datetime.fromisoformat(text)


def _as_is(values: Iterable[Any]) -> Iterable[Any]:
    return values


def _from_text(value: str) -> str:
    if not isinstance(value, str):
        raise TypeError(f"not a text: {value!r}")
    return str(value)


def _from_int(value: int) -> int:
    if type(value) is not int:
        raise TypeError(f"not a whole number: {value!r}")
    return value


def _from_float(value: float) -> float:
    if type(value) not in (int, float):
        raise TypeError(f"not a number: {value!r}")
    if value - value != 0:
        raise ValueError(f"not a finite number: {value!r}")
    # SQLite keeps no negative zero.
    return float(value) + 0.0


def _from_bool(value: bool) -> int:
    if not isinstance(value, bool):
        raise TypeError(f"neither true nor false: {value!r}")
    return int(value)


def _from_date(value: date) -> str:
    if type(value) is not date:
        raise TypeError(f"not a day: {value!r}")
    return value.isoformat()


def _from_day_if_said(value: date | None) -> str | None:
    return None if value is None else _from_date(value)


def _to_day_if_said(values: Iterable[str | None]) -> Iterable[date | None]:
    return (None if text is None else date.fromisoformat(text) for text in values)


def _from_codes(value: tuple[str, ...]) -> str:
    if not isinstance(value, tuple):
        raise TypeError(f"not a tuple: {value!r}")
    text = "\n".join(value)
    if value and ("" in value or len(text.split("\n")) != len(value)):
        raise ValueError(f"a code may be neither empty nor broken into lines: {value!r}")
    return text


class _Codes(dict[str, tuple[str, ...]]):
    # Most checks list the same places: each text is taken apart once, and shared.
    def __missing__(self, text: str) -> tuple[str, ...]:
        codes = self[text] = tuple(_parts(text))
        return codes


def _to_codes(values: Iterable[str]) -> Iterable[tuple[str, ...]]:
    return map(_Codes().__getitem__, values)


def _parts(text: str) -> list[str]:
    return text.split("\n") if text else []


def _from_floats(value: tuple[float, ...]) -> str:
    return "\n".join(repr(_from_float(number)) for number in value)


def _to_floats(values: Iterable[str]) -> Iterable[tuple[float, ...]]:
    return [tuple(map(float, _parts(text))) for text in values]


def _from_enum(kind: type[StrEnum]) -> Callable[[StrEnum], str]:
    def encode(value: StrEnum) -> str:
        if not isinstance(value, kind):
            raise TypeError(f"not a {kind.__name__}: {value!r}")
        return value.value

    return encode


def _to_enum(kind: type[StrEnum]) -> Callable[[Iterable[str]], Iterable[StrEnum]]:
    members = {member.value: member for member in kind}
    return lambda values: map(members.__getitem__, values)


_PLAIN: dict[Any, tuple[str, Callable[[Any], Cell], Callable[[Iterable[Any]], Iterable[Any]]]] = {
    str: ("TEXT NOT NULL", _from_text, _as_is),
    int: ("INTEGER NOT NULL", _from_int, _as_is),
    float: ("REAL NOT NULL", _from_float, _as_is),
    bool: ("INTEGER NOT NULL CHECK ({0} IN (0, 1))", _from_bool, lambda v: map(bool, v)),
    date: ("TEXT NOT NULL", _from_date, lambda v: map(date.fromisoformat, v)),
    date | None: ("TEXT", _from_day_if_said, _to_day_if_said),
    datetime: ("TEXT NOT NULL", moment_text, lambda v: map(moment_of, v)),
}
