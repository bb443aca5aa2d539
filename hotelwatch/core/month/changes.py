"""What was written down after a month was closed, and what replaced what."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import fields
from datetime import date, datetime, tzinfo
from enum import StrEnum

from hotelwatch.core.days import month_of
from hotelwatch.core.facts import Fact, MonthClosed
from hotelwatch.core.house import House
from hotelwatch.core.month.known import book_of, closings, month_told, months_told
from hotelwatch.core.month.page_rows import FieldChange
from hotelwatch.core.month.rows import ChangeRow
from hotelwatch.core.people_facts import PersonDescribed
from hotelwatch.core.record_facts import LateReasonKept, LetKept
from hotelwatch.core.records import Entry
from hotelwatch.core.trial_facts import DummyHidden

SUBJECTS = ("bed", "room", "from_room", "case", "team", "floor", "wing", "month", "person")
"""Fields that tell what a fact is about, the narrowest first."""
UNLISTED = frozenset({MonthClosed, LateReasonKept, LetKept, PersonDescribed, DummyHidden})
"""Kinds that are never listed: the closing and what it keeps, what bears the hash of a PIN, and
where a dummy lies, which nobody who looks may read."""


def change_rows(house: House, month: str) -> tuple[ChangeRow, ...]:
    """Late entries and corrections that stand in this month's book, in the order written down.

    That is: what concerns a month closed before, as long as no earlier book holds
    it; and corrections of this month's own facts made before its closing.
    """
    closed = closings(house)
    facts = _facts_by_entry(house)
    earliest = min(closed.values(), default=max(house.entries, default=0))
    rows: list[ChangeRow] = []
    for number, entry in sorted(house.entries.items()):
        if number <= earliest and entry.corrects is None:
            continue
        for told in sorted(_months_of(house, entry, facts)):
            if _stands_in(house, entry, month, told=told, closed=closed):
                rows += _rows_of(entry, told, facts, house.zone)
    return tuple(rows)


def later_rows(house: House, after: int, months: Collection[str]) -> tuple[ChangeRow, ...]:
    """What was written down after an entry and concerns any of these months, in that order.

    So it is told what a book made at that entry could not know.
    """
    facts = _facts_by_entry(house)
    return tuple(
        row
        for number, entry in sorted(house.entries.items())
        if number > after
        for told in sorted(_months_of(house, entry, facts))
        if told in months
        for row in _rows_of(entry, told, facts, house.zone)
    )


def _months_of(house: House, entry: Entry, facts: Mapping[int, list[Fact]]) -> frozenset[str]:
    told = months_told(entry, facts.get(entry.number, ()), house.zone)
    if entry.corrects is None:
        return told
    corrected = house.entries[entry.corrects]
    return told | months_told(corrected, facts.get(entry.corrects, ()), house.zone)


def _stands_in(
    house: House, entry: Entry, month: str, *, told: str, closed: Mapping[str, int]
) -> bool:
    closing = closed.get(told)
    if closing is not None and entry.number > closing:
        return book_of(house, entry.number, told) == month
    return entry.corrects is not None and told == month


def _rows_of(
    entry: Entry, month: str, facts: Mapping[int, list[Fact]], zone: tzinfo
) -> Iterator[ChangeRow]:
    """One row for each fact of the month that the entry brought, replaced or withdrew."""
    new = _keyed(facts.get(entry.number, []))
    old = _keyed(facts.get(entry.corrects, [])) if entry.corrects is not None else {}
    own_month = month_of(entry.recorded_at.astimezone(zone).date())
    for key in dict.fromkeys([*old, *new]):
        before, after = old.get(key), new.get(key)
        told = {month_told(fact, zone) for fact in (before, after) if fact is not None}
        if told == {None}:
            told = {month if entry.corrects is not None else own_month}
        if month not in told or before == after:
            continue
        yield ChangeRow(
            entry=entry.number,
            corrects=entry.corrects,
            recorded_at=entry.recorded_at,
            by=entry.by,
            reason=entry.note,
            month=month,
            kind=key[0],
            subject=key[1],
            changed=_compared(before, after),
        )


def _facts_by_entry(house: House) -> Mapping[int, list[Fact]]:
    facts: dict[int, list[Fact]] = {}
    for kind, rows in house.kept.items():
        if kind in UNLISTED:
            continue
        for row in rows:
            facts.setdefault(row.entry, []).append(row.fact)
    return facts


def _keyed(facts: list[Fact]) -> dict[tuple[str, str, int], Fact]:
    """Facts by kind, subject and how many of the kind came before on that subject."""
    seen: Counter[tuple[str, str]] = Counter()
    keyed: dict[tuple[str, str, int], Fact] = {}
    for fact in facts:
        key = type(fact).__name__, _subject(fact)
        keyed[*key, seen[key]] = fact
        seen[key] += 1
    return keyed


def _subject(fact: Fact) -> str:
    return next((text for name in SUBJECTS if (text := str(getattr(fact, name, "")))), "")


def _compared(before: Fact | None, after: Fact | None) -> tuple[FieldChange, ...]:
    fact = after if after is not None else before
    if fact is None:
        return ()
    changes = (
        FieldChange(field.name, text_of(before, field.name), text_of(after, field.name))
        for field in fields(fact)
    )
    return tuple(change for change in changes if change.old != change.new)


def text_of(fact: Fact | None, name: str) -> str:
    """A field's value as text: ISO 8601 days and moments, codes, lists with commas."""
    value = getattr(fact, name, "")
    match value:
        case StrEnum():
            return value.value
        case datetime() | date():
            return value.isoformat()
        case tuple():
            return ", ".join(str(part) for part in value)
    return str(value)
