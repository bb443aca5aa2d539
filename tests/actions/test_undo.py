"""Undo and redo: entries that take back and write anew, and refusals in between."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import timedelta

import pytest

from hotelwatch.actions.by_hand import pin_check
from hotelwatch.actions.cases import log_sighting
from hotelwatch.actions.checks import correct_look, record_looks
from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.desk import front_desk
from hotelwatch.actions.hotel import choose_cycle, describe_teams
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.actions.release import lift_quarantine
from hotelwatch.actions.reports import close_month
from hotelwatch.actions.rounds import draft_round, publish_round, wish_for
from hotelwatch.actions.session import Session
from hotelwatch.actions.undo import last_deed, last_undone, redo, undo
from hotelwatch.core.case_facts import QuarantineLifted, Sighted, Sign
from hotelwatch.core.cases.case import stage_of
from hotelwatch.core.checks.coverage import first_due_dates
from hotelwatch.core.checks.looking import full_look
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import (
    CaseNo,
    CheckKind,
    RoomNo,
    Scope,
    StaysImported,
    TeamDescribed,
    TeamName,
)
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import CheckPinned
from hotelwatch.store.verify import verify
from hotelwatch.wording.deeds import deed_text
from hotelwatch.wording.problems import refusal_sentence
from tests.build import rules


@pytest.fixture
def other(hotel, clock):
    other = open_hotel(hotel.path, rules(), clock=clock, by="second desk")
    yield other
    other.close()


def look(hotel, room, noted=""):
    house, day = hotel.house, hotel.today()
    seen = full_look(house, RoomNo(room), on=day, by=("ana", "ben"), kind=CheckKind.DEEP)
    return replace(seen, noted=noted)


def sighted(hotel, room, sign=Sign.LIVE_INSECT):
    return Sighted(CaseNo(""), RoomNo(room), "", "", sign, 0, "ana", hotel.now())


def derived(hotel):
    """What people see, without numbers of entries."""
    house, now = hotel.house, hotel.now()
    facts = {kind.__name__: sorted(map(repr, house.all_of(kind))) for kind in FACT_KINDS}
    due = dict(first_due_dates(house))
    stages = {case: stage_of(house, case) for case in house.sightings}
    looks = {bed: house.checks_of(bed) for bed in house.beds}
    cycles = {room: house.cycle_of(room) for room in house.rooms}
    closed = house.quarantined(now)
    return facts, due, stages, looks, cycles, closed, house.teams, repr(front_desk(hotel))


def test_undo_takes_back_and_redo_writes_the_same_again(hotel):
    before = derived(hotel)
    record_looks(hotel, [look(hotel, "102")])
    after, entry = derived(hotel), max(hotel.house.entries)
    assert deed_text(last_deed(hotel)) == "Check recorded, room 102"
    undo(hotel)
    assert derived(hotel) == before != after
    undoing = hotel.house.entries[entry + 1]
    assert (undoing.action, undoing.corrects, undoing.by) == ("undo", entry, "maria")
    assert deed_text(last_undone(hotel)) == "Check recorded, room 102"
    redo(hotel)
    assert derived(hotel) == after
    assert hotel.house.entries[entry + 2].action == "record_check"
    undo(hotel)
    assert derived(hotel) == before
    assert verify(hotel.path).is_sound


def test_a_find_is_undone_with_all_that_it_set_going(hotel):
    before = derived(hotel)
    log_sighting(hotel, sighted(hotel, "102"))
    assert deed_text(last_deed(hotel)) == "Sighting logged, room 102"
    undo(hotel)
    assert derived(hotel) == before
    redo(hotel)
    assert list(hotel.house.sightings) == ["2026-001"]


def test_undoing_a_correction_brings_back_what_it_replaced(hotel):
    record_looks(hotel, [look(hotel, "102", "first")])
    entry, before = max(hotel.house.entries), derived(hotel)
    correct_look(hotel, entry, look(hotel, "102", "second"), reason="typed wrong")
    after = derived(hotel)
    undo(hotel)
    assert derived(hotel) == before
    undo(hotel)
    assert not hotel.house.checks_of("102/A")
    redo(hotel)
    assert derived(hotel) == before
    redo(hotel)
    assert derived(hotel) == after


def test_undoing_a_taking_back_brings_the_entry_back(hotel):
    record_looks(hotel, [look(hotel, "102")])
    before = derived(hotel)
    take_back(hotel, max(hotel.house.entries), reason="wrong room")
    undo(hotel)
    assert derived(hotel) == before


def choose_thirty(hotel):
    choose_cycle(hotel, Scope.HOUSE, "", 30)


def choose_ninety(hotel):
    choose_cycle(hotel, Scope.HOUSE, "", 90)


def pin_after(days):
    def pin(hotel):
        pin_check(hotel, CheckPinned(RoomNo("102"), hotel.today() + timedelta(days=days)))

    return pin


def publish_pinned_after(days):
    def publish(hotel):
        pin_after(days)(hotel)
        plan = draft_round(hotel.house, hotel.occupancy(), wish_for(hotel))
        publish_round(hotel, plan, whole=True)

    return publish


@pytest.mark.parametrize(
    ("older", "newer"),
    [
        (choose_thirty, choose_ninety),
        (pin_after(3), pin_after(5)),
        (publish_pinned_after(3), publish_pinned_after(5)),
    ],
)
def test_what_a_taking_back_took_does_not_come_back_over_a_later_word(hotel, older, newer):
    older(hotel)
    entry = max(hotel.house.entries)
    newer(hotel)
    take_back(hotel, entry, reason="was never so")
    after, slots, last = derived(hotel), hotel.house.slots, max(hotel.house.entries)
    with pytest.raises(Refusal, match="undo_overtaken") as refused:
        undo(hotel)
    assert (derived(hotel), hotel.house.slots) == (after, slots)
    assert max(hotel.house.entries) == last
    what, _mend = refusal_sentence(refused.value)
    assert f"entry {entry} would count again over a later one" in what


def test_what_was_taken_back_comes_back_where_the_later_word_is_of_another_matter(hotel):
    choose_thirty(hotel)
    entry = max(hotel.house.entries)
    choose_cycle(hotel, Scope.ROOM, "102", 20)
    before = derived(hotel)
    take_back(hotel, entry, reason="was never so")
    undo(hotel)
    assert derived(hotel) == before


def test_the_roster_as_first_loaded_is_undone_only_while_nothing_rests_on_it(hotel, other):
    undo(hotel)  # the team
    assert last_deed(hotel).action == "load_roster"
    choose_cycle(other, Scope.HOUSE, "", 30)
    with pytest.raises(Refusal, match="undo_changed_since"):
        undo(hotel)


def test_a_later_word_of_another_window_on_the_same_room_is_respected(hotel, other):
    record_looks(hotel, [look(hotel, "102")])
    other.refresh()
    record_looks(other, [look(other, "103")])
    undo(hotel)  # another room: no matter
    redo(hotel)
    record_looks(other, [look(other, "102")])
    with pytest.raises(Refusal) as refused:
        undo(hotel)
    assert refused.value.code == "undo_changed_since"
    what, _mend = refusal_sentence(refused.value)
    assert "second desk wrote down entry" in what
    assert "“Check recorded”" in what
    hotel.refresh()
    assert len(hotel.house.checks_of("102/A")) == 2


def test_what_another_window_corrected_is_not_undone(hotel, other):
    record_looks(hotel, [look(hotel, "102")])
    other.refresh()
    take_back(other, max(other.house.entries), reason="wrong room")
    with pytest.raises(Refusal, match="undo_changed_since"):
        undo(hotel)


def test_redo_gives_way_to_a_case_that_another_window_opened_there(hotel, other):
    log_sighting(hotel, sighted(hotel, "102"))
    undo(hotel)
    other.refresh()
    assert log_sighting(other, sighted(other, "102")) == "2026-002"
    with pytest.raises(Refusal, match="redo_changed_since"):
        redo(hotel)


def test_each_person_undoes_only_own_deeds(hotel):
    record_looks(hotel, [look(hotel, "102")])
    hotel.by = "jon"
    assert last_deed(hotel) is None
    with pytest.raises(Refusal, match="nothing_to_undo"):
        undo(hotel)
    record_looks(hotel, [look(hotel, "201")])
    undo(hotel)
    hotel.by = "maria"
    assert deed_text(last_deed(hotel)) == "Check recorded, room 102"
    undo(hotel)
    redo(hotel)
    with pytest.raises(Refusal, match="nothing_to_redo"):
        redo(hotel)


def test_a_new_deed_leaves_nothing_to_redo(hotel):
    record_looks(hotel, [look(hotel, "102")])
    undo(hotel)
    record_looks(hotel, [look(hotel, "103")])
    assert last_undone(hotel) is None


def test_nothing_is_undone_once_the_month_was_closed(hotel, other, clock):
    record_looks(hotel, [look(hotel, "102")])
    clock.moment += timedelta(days=40)
    close_month(other, "2026-03")
    with pytest.raises(Refusal, match="undo_month_closed"):
        undo(hotel)
    close_month(hotel, "2026-02")
    with pytest.raises(Refusal, match="undo_not_possible"):
        undo(hotel)


def test_a_release_is_undone_and_signed_anew(hotel):
    case = log_sighting(hotel, sighted(hotel, "102"))
    closed = hotel.house.quarantined(hotel.now())
    lift_quarantine(
        hotel, RoomNo("102"), case, by="I. Novak", reason="wrong room", competence="manager"
    )
    undo(hotel)
    assert hotel.house.quarantined(hotel.now()) == closed
    with pytest.raises(Refusal, match="redo_looked_at_anew"):
        redo(hotel)
    assert not hotel.house.all_of(QuarantineLifted)


def do_something(hotel, chance):
    """One deed of those that people do, on a room of chance."""
    room = RoomNo(chance.choice(list(hotel.house.rooms)))
    recorded = [n for n, e in hotel.house.entries.items() if e.action == "record_check"]
    live = [n for n in recorded if n not in hotel.house.corrected]
    what = chance.randrange(7)
    if what == 0:
        choose_cycle(hotel, Scope.ROOM, room, chance.randrange(10, 200))
    elif what == 1:
        team = TeamDescribed(TeamName(chance.choice("ABC")), 2, chance.randrange(30, 200))
        describe_teams(hotel, [team])
    elif what == 2:
        on = hotel.today() + timedelta(days=chance.randrange(1, 9))
        pin_check(hotel, CheckPinned(room, on))
    elif what == 3:
        log_sighting(hotel, sighted(hotel, room, chance.choice([Sign.EGGS, Sign.CAST_SKIN])))
    elif what == 4 and live:
        take_back(hotel, chance.choice(live), reason="by chance")
    elif what == 5 and live:
        entry = chance.choice(live)
        correct_some(hotel, entry, chance)
    else:
        record_looks(hotel, [look(hotel, room, str(chance.random()))])


def correct_some(hotel, entry, chance):
    rooms = [row.fact.room for rows in hotel.house.kept_room_checks.values() for row in rows]
    beds = [row for rows in hotel.house.checks_by_bed.values() for row in rows]
    room = next((row.fact.room for row in beds if row.entry == entry), None)
    if room is None or room in rooms:
        return
    correct_look(hotel, entry, look(hotel, room, str(chance.random())), reason="by chance")


@pytest.mark.parametrize("seed", range(12))
def test_a_law_undo_leads_back_step_by_step_and_redo_forward(hotel, clock, seed):
    chance = random.Random(seed)
    hotel.session = Session()
    states = [derived(hotel)]
    while len(states) < 12:
        before = last_deed(hotel)
        try:
            do_something(hotel, chance)
        except Refusal:
            continue
        if last_deed(hotel) is not before:
            states.append(derived(hotel))
    for _turn in range(2):
        for state in reversed(states[:-1]):
            undo(hotel)
            assert derived(hotel) == state
        for state in states[1:]:
            redo(hotel)
            assert derived(hotel) == state
    assert verify(hotel.path).is_sound


def test_what_follows_from_loading_bookings_is_part_of_it(hotel):
    imported = StaysImported("b.csv", "0" * 64, hotel.today(), 0, 0)
    hotel.record_stays([], imported)
    choose_cycle(hotel, Scope.HOUSE, "", 30)
    hotel.session.join_last("maria", "import_stays")
    assert last_deed(hotel).action == "import_stays"
    with pytest.raises(Refusal, match="undo_not_possible"):
        undo(hotel)
