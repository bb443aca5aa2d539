"""Undo and redo as facts: an entry that takes the last one back, one that writes it anew."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.case_facts import CaseEntryMoved
from hotelwatch.core.facts import Fact
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Entry
from hotelwatch.core.undoing import (
    LOOKED_AT_ANEW,
    NOT_TO_BE_UNDONE,
    Deed,
    month_closed_since,
    overtakes,
    raw_facts,
    rests_on,
)

UNDO = "undo"


def last_deed(hotel: OpenHotel) -> Deed | None:
    """What undo would take back: the last deed at this desk of who sits there."""
    return hotel.session.last_done(hotel.by)


def last_undone(hotel: OpenHotel) -> Deed | None:
    """What redo would write down again."""
    pair = hotel.session.last_undone(hotel.by)
    return None if pair is None else pair[0]


def undo(hotel: OpenHotel) -> Deed:
    """Let the last deed count no more: the house is as it was before it.

    Refusal: "nothing_to_undo"; "undo_not_possible" for what is never undone;
    "undo_changed_since" where the entry was corrected or another rests on it;
    "undo_overtaken" where what it replaced would count over a later word;
    "undo_month_closed"; "undo_too_old" where what it replaced is not at hand.
    """
    deed, session = last_deed(hotel), hotel.session
    if deed is None:
        raise Refusal("nothing_to_undo")
    if deed.action in NOT_TO_BE_UNDONE:
        raise Refusal("undo_not_possible", action=deed.action)
    now = session.entry_now(deed.entry)
    hotel.refresh()
    _refuse_if_rested_on(hotel.house, deed, now, besides=session.ways)

    def decide(house: House) -> Sequence[Fact]:
        _refuse_if_rested_on(house, deed, now, besides=session.ways)
        if month := month_closed_since(house, deed.entry):
            raise Refusal("undo_month_closed", action=deed.action, month=month)
        if deed.corrects is None:
            return ()
        if deed.corrects not in house.entries:
            raise Refusal("undo_too_old", action=deed.action, entry=str(deed.corrects))
        if (later := overtakes(house, deed, now=now)) is not None:
            told = _told(deed, later)
            raise Refusal("undo_overtaken", **told, replaced=str(deed.corrects))
        return raw_facts(house, deed.corrects)

    with session.aside():
        hotel.record(decide, action=UNDO, note=str(deed.entry), corrects=now)
    session.note_undone(deed, max(hotel.house.entries))
    return deed


def redo(hotel: OpenHotel) -> Deed:
    """Write down again what was undone last.

    Refusal: "nothing_to_redo"; "redo_changed_since" where another entry of the same
    matter was written down in between; "redo_looked_at_anew" for a release or a closing,
    whose conditions are looked at whenever one is written down.
    """
    session = hotel.session
    pair = session.last_undone(hotel.by)
    if pair is None:
        raise Refusal("nothing_to_redo")
    deed, undoing = pair
    if any(isinstance(fact, LOOKED_AT_ANEW) for fact in deed.facts):
        raise Refusal("redo_looked_at_anew", action=deed.action)
    corrects = None if deed.corrects is None else session.entry_now(deed.corrects)
    facts = tuple(_renumbered(hotel, fact) for fact in deed.facts)

    def decide(house: House) -> Sequence[Fact]:
        later = rests_on(house, replace(deed, entry=undoing), besides=session.ways)
        if later is not None:
            raise Refusal("redo_changed_since", **_told(deed, later))
        return facts

    with session.aside():
        hotel.record(decide, action=deed.action, note=deed.note, corrects=corrects)
    session.note_redone(deed, max(hotel.house.entries))
    return deed


def _refuse_if_rested_on(house: House, deed: Deed, now: int, *, besides: frozenset[int]) -> None:
    entries = house.entries.values()
    later = next((entry for entry in entries if entry.corrects == now), None)
    later = later or rests_on(house, deed, besides=(now, *besides))
    if later is not None:
        raise Refusal("undo_changed_since", **_told(deed, later))


def _told(deed: Deed, later: Entry) -> dict[str, str]:
    return {
        "action": deed.action,
        "entry": str(later.number),
        "by": later.by,
        "later_action": later.action,
    }


def _renumbered(hotel: OpenHotel, fact: Fact) -> Fact:
    """A fact that names an entry names the one that holds its facts now."""
    if isinstance(fact, CaseEntryMoved):
        return replace(fact, number=hotel.session.entry_now(fact.number))
    return fact
