"""Whether what must be recorded is there, by whom rooms were treated, how long it is kept.

What stands in the record is judged, never whether it is true: a licence number is as the
firm gave it. Papers are counted by case: a report or a receipt of a case kept on the day of
a treatment or later counts for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date

from hotelwatch.core.case_facts import CaseJudged, Sighted
from hotelwatch.core.days import local_day
from hotelwatch.core.facts import BedChecked, CaseNo, RoomChecked
from hotelwatch.core.house import House
from hotelwatch.core.local_rules.rows import Item, ItemState, Period
from hotelwatch.core.record_facts import ContentExpired
from hotelwatch.core.rule_facts import RuleClause
from hotelwatch.core.trainings import training_states
from hotelwatch.core.treatment_facts import (
    CareDone,
    CareStep,
    FirmDescribed,
    ItemDiscarded,
    PaperKept,
    PaperKind,
    TreatmentRecorded,
)

KEPT = ("keeps_photos", "keeps_papers", "keeps_names", "keeps_notes")
"""The hotel's choices of how long content stays; the record itself is never deleted."""
ALWAYS = "always"


def record_items(house: House, clause: RuleClause, period: Period) -> tuple[Item, ...]:
    """Each thing of the month that a clause wants recorded, and whether it is."""
    return tuple(item for code in clause.records for item in RECORDS[code](house, code, period))


def licensed_items(house: House, _clause: RuleClause, period: Period) -> tuple[Item, ...]:
    """Each treatment of the month: whether a firm and a licence that holds are named."""
    return tuple(_licensed(house, period))


def keep_items(house: House, clause: RuleClause, period: Period) -> tuple[Item, ...]:
    """Whether what the hotel chose lets content go sooner than a clause allows, or let it.

    Where the hotel chose nothing, content stays as long as its set of rules says. Its years
    run from the closing of its case or from its month's end, and so never from sooner than
    it was written.
    """
    chosen = (
        Item(
            what=kind,
            case="",
            room="",
            state=ItemState.DONE if _years(house, kind) >= clause.years else ItemState.MISSING,
        )
        for kind in KEPT
    )
    return (*chosen, *_gone_too_soon(house, clause, period))


def _gone_too_soon(house: House, clause: RuleClause, period: Period) -> Iterator[Item]:
    """What expired in the month after fewer years than the clause asks."""
    for row in house.kept_of(ContentExpired):
        on = local_day(house.entry_of(row).recorded_at, house.zone)
        if _in(period, on) and row.fact.keeps_years < clause.years:
            yield Item("not_gone", "", "", ItemState.MISSING, done=on)


def _years(house: House, kind: str) -> float:
    chosen = house.choices.get(kind, "")
    if chosen == ALWAYS:
        return float("inf")
    return int(chosen) if chosen else house.profile.keeps_years


# --- treatments -----------------------------------------------------------------------------


def _treated(house: House, period: Period) -> Iterator[TreatmentRecorded]:
    for row in house.kept_of(TreatmentRecorded):
        if _in(period, row.fact.treated_on):
            yield row.fact


def _in(period: Period, day: date) -> bool:
    return period.first_on <= day <= period.last_on


def _licensed(house: House, period: Period) -> Iterator[Item]:
    firms = {fact.firm: fact for fact in house.all_of(FirmDescribed)}
    for treated in _treated(house, period):
        firm = firms.get(treated.firm)
        is_named = bool(treated.firm.strip() and treated.licence.strip())
        ended = firm is not None and firm.expires_on is not None
        is_past = ended and firm is not None and treated.treated_on > (firm.expires_on or date.max)
        what = "licence_holds" if is_past else "licence"
        state = ItemState.DONE if is_named and not is_past else ItemState.MISSING
        yield Item(what, treated.case, treated.room, state, treated.treated_on, table="treatments")


def _field(house: House, code: str, period: Period) -> Iterator[Item]:
    """A field of each treatment of the month."""
    for treated in _treated(house, period):
        is_there = bool(getattr(treated, _FIELDS[code]))
        yield _there(code, treated.case, treated.room, treated.treated_on, is_there=is_there)


def _paper(house: House, code: str, period: Period) -> Iterator[Item]:
    """A paper of the case of each treatment of the month."""
    for treated in _treated(house, period):
        is_there = any(
            row.fact.what == PaperKind(code)
            and local_day(house.entry_of(row).recorded_at, house.zone) >= treated.treated_on
            for row in house.kept_of_case(PaperKept, treated.case)
        )
        yield _there(code, treated.case, treated.room, treated.treated_on, is_there=is_there)


# --- signs, looks, things ---------------------------------------------------------------------


def _complaints(house: House, code: str, period: Period) -> Iterator[Item]:
    """Each sign seen or told in the month: who said it."""
    for row in house.kept_of(Sighted):
        seen_on = local_day(row.fact.seen_at, house.zone)
        if _in(period, seen_on):
            is_there = bool(row.fact.seen_by.strip())
            item = _there(code, row.fact.case, row.fact.room, seen_on, is_there=is_there)
            yield Item(
                item.what, item.case, item.room, item.state, row.fact.seen_at, table="sightings"
            )


def _judged(house: House, code: str, period: Period) -> Iterator[Item]:
    for row in house.kept_of(CaseJudged):
        fact = row.fact
        if _in(period, fact.judged_on):
            is_there = bool(fact.judged_by.strip() and fact.competence.strip())
            room = _first_room(house, fact.case)
            yield _there(code, fact.case, room, fact.judged_on, is_there=is_there, table="cases")


def _looks(house: House, code: str, period: Period) -> Iterator[Item]:
    """Each look of the month: who looked."""
    looks: list[BedChecked | RoomChecked] = [*house.all_of(BedChecked)]
    looks += house.all_of(RoomChecked)
    for look in looks:
        if _in(period, look.checked_on):
            is_there = any(name.strip() for name in look.by)
            yield _there(code, "", look.room, look.checked_on, is_there=is_there, table="checks")


def _linen(house: House, code: str, period: Period) -> Iterator[Item]:
    """Linen of each room with a treatment in the month: what was done with it."""
    for treated in _treated(house, period):
        done = (row.fact for row in house.kept_of_case(CareDone, treated.case))
        is_there = any(
            fact.step is CareStep.LINEN and fact.room == treated.room for fact in done
        ) or bool(treated.bedding)
        day = treated.treated_on
        yield _there(code, treated.case, treated.room, day, is_there=is_there, table="care")


def _discards(house: House, code: str, period: Period) -> Iterator[Item]:
    """Each thing thrown away in the month: unusable and labelled."""
    for row in house.kept_of(ItemDiscarded):
        fact = row.fact
        if _in(period, fact.discarded_on):
            is_there = fact.is_unusable and fact.is_labelled
            day = fact.discarded_on
            yield _there(code, fact.case, fact.room, day, is_there=is_there, table="care")


def _trained(house: House, code: str, period: Period) -> Iterator[Item]:
    """Each topic that somebody at work needs, as of the days' end: trained and not overdue."""
    on = min(period.last_on, local_day(period.end, house.zone))
    for state in training_states(house, on):
        last = state.last.on if state.last else None
        how = ItemState.MISSING if state.is_overdue else ItemState.DONE
        yield Item(
            code, "", "", how, since=last, by=state.due_on, done=last, table="training_states"
        )


def _first_room(house: House, case: CaseNo) -> str:
    rows = house.sightings.get(case, ())
    return rows[0].fact.room if rows else ""


def _there(
    code: str, case: str, room: str, on: date, *, is_there: bool, table: str = "treatments"
) -> Item:
    state = ItemState.DONE if is_there else ItemState.MISSING
    return Item(code, case, room, state, on, table=table)


_FIELDS = {
    "firm": "firm",
    "licence_no": "licence",
    "technician": "technician",
    "method": "method",
    "product": "product",
    "registration_no": "registration_no",
    "areas": "areas",
    "amount": "amount",
    "receipt_no": "receipt_no",
}
RECORDS: Mapping[str, Callable[[House, str, Period], Iterator[Item]]] = {
    "complaints": _complaints,
    "judgements": _judged,
    "looks": _looks,
    "report": _paper,
    "receipt": _paper,
    "linen": _linen,
    "discards": _discards,
    "training": _trained,
    **dict.fromkeys(_FIELDS, _field),
}
"""What a clause may want recorded, by code."""
