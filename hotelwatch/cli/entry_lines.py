"""What each entry is about, in a few words, so that the right one is found again."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping

from hotelwatch.core.facts import CaseNo, Fact
from hotelwatch.core.house import House
from hotelwatch.core.round_facts import (
    CheckPinned,
    DayForbidden,
    FurnitureMoved,
    HouseDaysClosed,
    NightAnswered,
    NightAsked,
    SeasonNoted,
    TeamDaysChanged,
    TeamPinned,
    VisitArranged,
    VisitDeclined,
)
from hotelwatch.core.trial_facts import DummyEnded, DummyHidden
from hotelwatch.wording.dates import day_text, month_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.rounds import span_text

MOST_NAMED = 4
"""So many rooms are named; more are counted."""


def about_entries(house: House, numbers: Collection[int]) -> Mapping[int, str]:
    """By entry: its case, its rooms, its teams or its month; and whether it counts no more."""
    facts: defaultdict[int, list[Fact]] = defaultdict(list)
    for rows in house.kept.values():
        for row in rows:
            if row.entry in numbers:
                facts[row.entry].append(row.fact)
    later = {told.corrects: told.number for told in house.entries.values() if told.corrects}
    about = {}
    for number in numbers:
        parts = list(_about(facts[number]))
        if (corrects := house.entries[number].corrects) is not None:
            parts.append(_("instead of entry {entry}").format(entry=corrects))
        if number in later:
            parts.append(_("counts no more: entry {entry}").format(entry=later[number]))
        about[number] = "; ".join(parts)
    return about


def _about(facts: Iterable[Fact]) -> Iterable[str]:
    # Where a dummy lies is the supervisor's to know: this list is anybody's.
    told = [fact for fact in facts if not isinstance(fact, DummyHidden | DummyEnded)]
    if cases := _each(told, "case"):
        yield _("case {case}").format(case=", ".join(CaseNo(case) for case in cases))
    rooms = _each(told, "room")
    if len(rooms) > MOST_NAMED:
        yield ngettext("{n} room", "{n} rooms", len(rooms)).format(n=len(rooms))
    elif rooms:
        yield ", ".join(rooms)
    for field in ("team", "wing", "file_name"):
        if not rooms and (named := _each(told, field)):
            yield ", ".join(named)
    yield from _days_about(told)
    for month in _each(told, "month"):
        yield month_text(month)
    for deed in _each(told, "deed"):
        yield label(deed)
    yield from _each(told, "person")


def _days_about(facts: Iterable[Fact]) -> Iterable[str]:
    """Which season, which rooms of a move, which days a choice is about."""
    for fact in facts:
        match fact:
            case SeasonNoted():
                yield f"{fact.name}, {span_text(fact.from_on, fact.until_on)}"
            case TeamDaysChanged() | HouseDaysClosed():
                yield span_text(fact.from_on, fact.until_on)
            case FurnitureMoved():
                yield _("{what}: {room} to {other}").format(
                    what=fact.what, room=fact.from_room, other=fact.to_room
                )
            case CheckPinned() | DayForbidden() | VisitArranged() | VisitDeclined():
                yield day_text(fact.on)
            case TeamPinned():
                yield fact.team
            case NightAsked() | NightAnswered():
                yield day_text(fact.night)


def _each(facts: Iterable[Fact], field: str) -> list[str]:
    """A field's values, each once, in the order written down."""
    values = (str(getattr(fact, field, "") or "") for fact in facts)
    return list(dict.fromkeys(value for value in values if value))
