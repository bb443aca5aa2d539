"""The policy in force at the end of a month, and who changed what of it in the month."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields

from hotelwatch.core.choice_facts import (
    CartServes,
    FigureChosen,
    ProfileChosen,
    PublicHoliday,
    RoomTypesRanked,
    RuleChosen,
)
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import CycleChosen, Fact, HotelDescribed, RiskPlaced, TeamDescribed
from hotelwatch.core.house import House
from hotelwatch.core.month.changes import text_of
from hotelwatch.core.month.due import Span
from hotelwatch.core.month.page_rows import FieldChange, InForce, PolicyRow, Price
from hotelwatch.core.odds_figures import OddsFigure
from hotelwatch.core.people import RefusedRow, people, refused_rows
from hotelwatch.core.people_facts import PersonDescribed
from hotelwatch.core.record_facts import ContentExpired, ExpiryStopped, RecordRestored
from hotelwatch.core.round_facts import HouseDaysClosed, SeasonNoted, TeamDaysChanged
from hotelwatch.core.rule_facts import RulesCompared, RuleSetKept
from hotelwatch.core.standing import Standing

POLICY: tuple[type[Fact], ...] = (
    HotelDescribed,
    CycleChosen,
    RiskPlaced,
    ProfileChosen,
    RuleSetKept,
    RulesCompared,
    RuleChosen,
    FigureChosen,
    PublicHoliday,
    SeasonNoted,
    HouseDaysClosed,
    TeamDescribed,
    TeamDaysChanged,
    RoomTypesRanked,
    CartServes,
    PersonDescribed,
    ExpiryStopped,
    ContentExpired,
    RecordRestored,
)
"""Kinds of fact by which a hotel sets how it works."""
KEPT_SECRET = frozenset({"pin_hash"})
NOT_WORTH_SAYING = frozenset({"False", ""})
PRICES = ("price_work_hour", "price_room_night", "price_treatment")


def policy_rows(house: House, span: Span) -> tuple[PolicyRow, ...]:
    """What was set or changed in the month, in the order written down.

    Told beside what was known of the same thing before; a PIN, even hashed, never.
    """
    before: dict[tuple[str, str], Fact] = {}
    rows: list[PolicyRow] = []
    for entry, fact in _written(house):
        key = type(fact).__name__, _about(fact)
        earlier = before.get(key)
        before[key] = fact
        told = house.entries[entry]
        if not span.holds(local_day(told.recorded_at, house.zone)):
            continue
        if changed := _compared(earlier, fact):
            row = PolicyRow(entry, told.recorded_at, told.by, key[0], changed, told.note)
            rows.append(row)
    return tuple(rows)


def in_force(house: House) -> InForce:
    """The policy as it stands in a house."""
    key = house.profile.key
    compared = [fact for fact in house.all_of(RulesCompared) if fact.rules == key]
    own = {fact.figure: fact for fact in house.all_of(FigureChosen)}
    return InForce(
        profile=house.profile,
        choices=tuple(sorted(house.choices.items())),
        profile_checked_by=compared[-1].by if compared else "",
        profile_checked_on=compared[-1].on if compared else None,
        cycles=tuple(
            (scope.value, which, days)
            for (scope, which), days in house.chosen_cycles.items()
            if days
        ),
        own_figures=tuple(
            (key, fact.value, fact.reason) for key, fact in sorted(own.items()) if fact.holds
        ),
        roles=tuple((name, one.role.value) for name, one in people(house).items()),
    )


def refusals(house: House, span: Span) -> tuple[RefusedRow, ...]:
    """What was refused in the month, in the order written down."""
    return tuple(
        row for row in reversed(refused_rows(house)) if span.holds(local_day(row.at, house.zone))
    )


def prices(house: House) -> tuple[Price, ...]:
    """What hours, nights and treatments cost: the hotel's own figures, or assumed ones."""
    return tuple(_price(key, getattr(house.rules.odds.figures, key)) for key in PRICES)


def _price(key: str, figure: OddsFigure) -> Price:
    is_own = figure.standing is Standing.CHOSEN
    return Price(key, figure.value, figure.low, figure.high, is_own)


def _written(house: House) -> list[tuple[int, Fact]]:
    rows = [(row.entry, row.fact) for kind in POLICY for row in house.kept_of(kind)]
    return sorted(rows, key=lambda row: row[0])


_ABOUT: Mapping[type[Fact], tuple[str, ...]] = {
    CycleChosen: ("scope", "which"),
    RiskPlaced: ("room",),
    RuleSetKept: ("rules",),
    RulesCompared: ("rules", "clause"),
    RuleChosen: ("rule",),
    FigureChosen: ("figure",),
    PublicHoliday: ("on",),
    SeasonNoted: ("name",),
    HouseDaysClosed: ("from_on", "until_on"),
    TeamDescribed: ("team",),
    TeamDaysChanged: ("team", "from_on", "until_on"),
    CartServes: ("cart",),
    PersonDescribed: ("person",),
}
"""Fields that tell what a fact of policy is about; of other kinds there is one at a time."""


def _about(fact: Fact) -> str:
    return "/".join(text_of(fact, name) for name in _ABOUT.get(type(fact), ()))


def _compared(before: Fact | None, after: Fact) -> tuple[FieldChange, ...]:
    """What it is about, and every field that is new or other than before."""
    about = _ABOUT.get(type(after), ())
    changes = []
    for field in fields(after):
        old = text_of(before, field.name) if before is not None else ""
        new = text_of(after, field.name)
        if field.name in KEPT_SECRET:
            continue
        if field.name in about:
            changes.append(FieldChange(field.name, "", new))
        elif old != new and not (before is None and new in NOT_WORTH_SAYING):
            changes.append(FieldChange(field.name, old, new))
    is_new = any(change.field not in about for change in changes)
    return tuple(change for change in changes if change.new or change.old) if is_new else ()
