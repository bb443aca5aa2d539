"""Names of staff as they stand on what leaves the hotel, in every row of a month."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any, get_type_hints

from hotelwatch.core.cases.conditions import Condition
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import WordSort
from hotelwatch.core.house import House
from hotelwatch.core.month.page_rows import FieldChange, PageRows
from hotelwatch.core.month.rows import MonthFigures, MonthRows
from hotelwatch.core.shown_names import INITIALS, RULE, shown_name

Shown = Callable[[str], str]
NO_NAMES = frozenset({"competence", "firm", "licence"})
"""Fields that expire like names and name nobody of the staff."""


def with_shown_names(house: House, figures: MonthFigures) -> MonthFigures:
    """The month with names or initials, as the hotel has chosen."""
    if house.choices.get(RULE) != INITIALS:
        return figures

    @cache
    def shown(name: str) -> str:
        return ", ".join(shown_name(house, part) for part in name.split(", ")) if name else ""

    account = replace(figures.account, closed_by=shown(figures.account.closed_by))
    return replace(
        figures,
        account=account,
        rows=_rows(figures.rows, shown),
        pages=_pages(figures.pages, shown),
        local_rules=replace(
            figures.local_rules,
            judgements=_each(figures.local_rules.judgements, shown, "compared_by"),
        ),
    )


def _rows(rows: MonthRows, shown: Shown) -> MonthRows:
    return replace(
        rows,
        checks=tuple(replace(row, by=tuple(map(shown, row.by))) for row in rows.checks),
        sightings=_each(rows.sightings, shown, "seen_by", "judged_by"),
        cases=_each(rows.cases, shown, "judged_by", "closed_by"),
        asked=_each(rows.asked, shown, "looked_by"),
        quarantines=tuple(
            replace(row, conditions=_conditions(row.conditions, shown))
            for row in _each(rows.quarantines, shown, "placed_by", "lifted_by")
        ),
        lets=_each(rows.lets, shown, "explained_by"),
        people=_each(rows.people, shown, "person"),
        changes=tuple(
            replace(row, by=shown(row.by), changed=_changed(row.changed, shown))
            for row in rows.changes
        ),
    )


def _pages(pages: PageRows, shown: Shown) -> PageRows:
    force = pages.in_force
    return replace(
        pages,
        clocks=_each(pages.clocks, shown, "by"),
        care=_each(pages.care, shown, "by"),
        kept=_each(pages.kept, shown, "by"),
        notices=_each(pages.notices, shown, "by"),
        visits=_each(pages.visits, shown, "by"),
        watches=_each(pages.watches, shown, "closed_by"),
        dogs=_each(pages.dogs, shown, "handler", "by"),
        trainings=_each(pages.trainings, shown, "person", "by"),
        training_states=_each(pages.training_states, shown, "person"),
        policy=tuple(
            replace(row, by=shown(row.by), changed=_changed(row.changed, shown))
            for row in pages.policy
        ),
        refusals=tuple(
            replace(row, refused=replace(row.refused, person=shown(row.refused.person)))
            for row in pages.refusals
        ),
        in_force=replace(
            force,
            profile_checked_by=shown(force.profile_checked_by),
            roles=tuple((shown(name), role) for name, role in force.roles),
        ),
    )


def _conditions(found: tuple[Condition, ...], shown: Shown) -> tuple[Condition, ...]:
    return tuple(replace(one, by=tuple(map(shown, one.by))) for one in found)


def _each(rows: tuple[Any, ...], shown: Shown, *names: str) -> tuple[Any, ...]:
    return tuple(
        replace(row, **{name: shown(getattr(row, name)) for name in names}) for row in rows
    )


def _changed(changed: tuple[FieldChange, ...], shown: Shown) -> tuple[FieldChange, ...]:
    return tuple(
        replace(one, old=shown(one.old), new=shown(one.new)) if one.field in name_fields() else one
        for one in changed
    )


@cache
def name_fields() -> frozenset[str]:
    """Names of the fields of facts that name somebody of the staff."""
    hints = (get_type_hints(kind, include_extras=True) for kind in FACT_KINDS)
    return frozenset(
        name
        for of_kind in hints
        for name, hint in of_kind.items()
        if WordSort.NAME in getattr(hint, "__metadata__", ()) and name not in NO_NAMES
    )
