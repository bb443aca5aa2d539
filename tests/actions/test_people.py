from __future__ import annotations

from datetime import timedelta
from functools import partial

import argon2
import pytest
from PIL import Image

from hotelwatch.actions.cases import add_photo, log_sighting
from hotelwatch.actions.corrections import take_back
from hotelwatch.actions.gate import Denied
from hotelwatch.actions.hotel import choose_cycle, start_hotel
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.actions.people import (
    change_pin,
    describe_person,
    get_up,
    leave_hotel,
    sit_down,
    waiting_until,
)
from hotelwatch.core.case_facts import QuarantineLifted, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.facts import HotelDescribed, RoomDescribed, Scope, Side, StaysImported
from hotelwatch.core.people import people, refused_rows
from hotelwatch.core.people_facts import DeedRefused, PersonDescribed, StaffRole, WhyRefused
from hotelwatch.core.problems import Refusal
from hotelwatch.core.roles import Sight
from hotelwatch.core.treatment_facts import MonitorRead
from hotelwatch.store.verify import verify
from tests.build import day, moment, rules

EXEC, SUPERVISOR, HOUSEKEEPER, DESK, ENGINEER, MANAGER = StaffRole
PIN = "7305194826"
"""Long enough that no digest in a file has these digits by chance."""


class Clock:
    def __init__(self):
        self.moment = moment(40)

    def __call__(self):
        return self.moment

    def later(self, **spans):
        self.moment += timedelta(**spans)


@pytest.fixture(autouse=True)
def quick(monkeypatch):
    """Hash with the least costs, so that tests do not wait; the costs have their own test."""
    hasher = argon2.PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)
    monkeypatch.setattr("hotelwatch.actions.people.hash_of", hasher.hash)


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def hotel(tmp_path, clock):
    described = HotelDescribed(name="Inn", zone="Europe/Vienna")
    hotel = start_hotel(tmp_path / "inn.hotelwatch", described, rules(), clock=clock, by="tester")
    rooms = [RoomDescribed(no, "1", "", Side.LEFT, n) for n, no in enumerate(("101", "102"), 1)]
    hotel.record(lambda _: rooms, action="test")
    yield hotel
    hotel.close()


@pytest.fixture
def staffed(hotel):
    """A hotel with one person of each role; nobody sits at the desk."""
    describe_person(hotel, "Eva", EXEC, pin=PIN)
    for role in (SUPERVISOR, HOUSEKEEPER, DESK, ENGINEER, MANAGER):
        describe_person(hotel, role.value, role, pin=PIN)
    get_up(hotel)
    return hotel


def sighted(room="101"):
    return Sighted("", room, "", "", Sign.LIVE_INSECT, 1, "Ana", moment(40))


def sit(hotel, role):
    sit_down(hotel, "Eva" if role is EXEC else role.value, PIN)


# --- coming and going ---------------------------------------------------------------------


def test_the_first_person_is_an_executive_housekeeper_with_a_pin_and_sits_there(hotel):
    with pytest.raises(Refusal, match="first_is_executive"):
        describe_person(hotel, "Eva", HOUSEKEEPER, pin=PIN)
    with pytest.raises(Refusal, match="person_needs_pin"):
        describe_person(hotel, "Eva", EXEC)
    assert not hotel.is_guarded
    describe_person(hotel, " Eva ", EXEC, pin=PIN)
    assert hotel.seat.person == hotel.by == "Eva"
    choose_cycle(hotel, Scope.HOUSE, "", 60)
    assert list(hotel.house.entries.values())[-1].by == "Eva"


def test_nothing_of_a_pin_stands_in_the_file(staffed):
    described = people(staffed.house)["Eva"]
    assert PIN not in described.pin_hash
    assert described.pin_hash.startswith("$argon2id$")
    hashes = {one.pin_hash for one in people(staffed.house).values()}
    assert len(hashes) == len(people(staffed.house))  # each with a salt of its own
    assert PIN.encode() not in staffed.path.read_bytes()


def test_the_last_executive_housekeeper_stays(staffed):
    sit(staffed, EXEC)
    with pytest.raises(Refusal, match="last_executive"):
        leave_hotel(staffed, "Eva")
    with pytest.raises(Refusal, match="last_executive"):
        describe_person(staffed, "Eva", MANAGER)
    describe_person(staffed, "supervisor", EXEC)
    leave_hotel(staffed, "Eva")
    assert staffed.seat is None
    with pytest.raises(Denied, match="nobody_at_desk"):
        choose_cycle(staffed, Scope.HOUSE, "", 60)


def test_who_is_described_anew_keeps_the_pin(staffed):
    sit(staffed, EXEC)
    describe_person(staffed, "engineer", SUPERVISOR)
    get_up(staffed)
    sit_down(staffed, "engineer", PIN)
    assert staffed.seat.role is SUPERVISOR


def test_a_name_that_differs_only_in_capitals_is_refused(staffed):
    sit(staffed, EXEC)
    with pytest.raises(Refusal, match="person_known_otherwise"):
        describe_person(staffed, "EVA", HOUSEKEEPER, pin=PIN)


def test_people_are_described_anew_never_taken_back(staffed):
    sit(staffed, EXEC)
    with pytest.raises(Refusal, match="wrong_pin"):
        sit_down(staffed, "Eva", "9999")
    for kind in (PersonDescribed, DeedRefused):
        entry = staffed.house.kept_of(kind)[-1].entry
        with pytest.raises(Refusal, match="not_to_be_taken_back"):
            take_back(staffed, entry, reason="a slip")


def test_the_other_window_learns_of_a_role_taken_away(staffed, clock):
    other = open_hotel(staffed.path, rules(), clock=clock, by="tester")
    sit_down(other, "supervisor", PIN)
    sit(staffed, EXEC)
    describe_person(staffed, "supervisor", MANAGER)
    with pytest.raises(Denied, match="role_may_not"):
        choose_cycle(other, Scope.HOUSE, "", 60)
    assert other.seat.role is MANAGER
    other.close()


# --- what is refused ------------------------------------------------------------------------


def entries_since(hotel, before):
    return [entry for number, entry in hotel.house.entries.items() if number > before]


def test_nothing_is_written_where_it_is_refused_but_the_refusal(staffed):
    log = partial(log_sighting, staffed, sighted())
    sit(staffed, HOUSEKEEPER)
    log()
    placed = staffed.house.all_of(QuarantinePlaced)
    before, kept = max(staffed.house.entries), staffed.house.kept
    lifting = QuarantineLifted("101", placed[0].case, moment(40), "x", conditions_met=True)
    with pytest.raises(Denied, match="role_may_not") as caught:
        staffed.record(lambda _: [lifting], action="lift_quarantine")
    assert set(caught.value.values["roles"].split(",")) == {EXEC, SUPERVISOR}
    (entry,) = entries_since(staffed, before)
    assert (entry.action, entry.by) == ("refuse", "housekeeper")
    (refused,) = staffed.house.all_of(DeedRefused)
    assert refused == DeedRefused(
        "housekeeper", HOUSEKEEPER, "lift_quarantine", ("QuarantineLifted",), WhyRefused.ROLE
    )
    now = {kind: rows for kind, rows in staffed.house.kept.items() if kind is not DeedRefused}
    assert now == {kind: rows for kind, rows in kept.items() if kind is not DeedRefused}


def test_nobody_at_the_desk_writes_nothing_and_that_is_written_down(staffed):
    before = max(staffed.house.entries)
    with pytest.raises(Denied, match="nobody_at_desk"):
        log_sighting(staffed, sighted())
    assert [e.action for e in entries_since(staffed, before)] == ["refuse"]
    assert staffed.house.all_of(DeedRefused)[0].why is WhyRefused.NOBODY


def test_a_refusal_is_noted_even_for_who_writes_nothing(staffed):
    sit(staffed, MANAGER)
    with pytest.raises(Denied):
        choose_cycle(staffed, Scope.HOUSE, "", 60)
    (row,) = refused_rows(staffed.house)
    assert (row.refused.person, row.refused.kinds) == ("hotel_manager", ("CycleChosen",))


def test_one_takes_back_ones_own_and_a_supervisor_also_anothers(staffed):
    sit(staffed, HOUSEKEEPER)
    staffed.record(lambda _: [MonitorRead("T1", "101", day(40), "Ana", 0)], action="read_monitor")
    entry = max(staffed.house.entries)
    get_up(staffed)
    sit(staffed, ENGINEER)
    with pytest.raises(Denied, match="not_ones_own_entry"):
        take_back(staffed, entry, reason="a slip")
    assert entry not in staffed.house.corrected
    get_up(staffed)
    sit(staffed, HOUSEKEEPER)
    take_back(staffed, entry, reason="a slip")
    assert entry in staffed.house.corrected


def test_a_sighting_logged_by_mistake_is_the_supervisors_to_take_back(staffed):
    sit(staffed, DESK)
    log_sighting(staffed, sighted())
    entry = staffed.house.kept_of(Sighted)[0].entry
    assert not staffed.may_take_back(entry)
    with pytest.raises(Denied, match="role_may_not"):
        take_back(staffed, entry, reason="a slip")
    assert staffed.house.quarantined(moment(41)) == {"101"}
    get_up(staffed)
    sit(staffed, SUPERVISOR)
    assert staffed.may_take_back(entry)
    take_back(staffed, entry, reason="a slip")
    assert not staffed.house.quarantined(moment(41))


def test_bookings_are_front_desks_and_not_a_housekeepers(staffed):
    imported = StaysImported("b.csv", "0" * 64, day(40), 0, 0)
    sit(staffed, HOUSEKEEPER)
    with pytest.raises(Denied, match="role_may_not"):
        staffed.record_stays([], imported)
    get_up(staffed)
    sit(staffed, DESK)
    staffed.record_stays([], imported)
    assert len(staffed.house.all_of(StaysImported)) == 1


def test_a_file_is_not_kept_where_it_may_not_be(staffed, tmp_path):
    photo = tmp_path / "p.jpg"
    Image.new("RGB", (4, 4)).save(photo)
    sit(staffed, DESK)
    case = log_sighting(staffed, sighted())
    before = sorted(tmp_path.rglob("*"))
    with pytest.raises(Denied, match="role_may_not"):
        add_photo(staffed, case, photo)
    assert sorted(tmp_path.rglob("*")) == before


def test_what_one_may_not_see_is_refused_and_written_down(staffed):
    sit(staffed, DESK)
    staffed.require_sight(Sight.DESK)
    with pytest.raises(Denied, match="role_may_not_see"):
        staffed.require_sight(Sight.CASES)
    assert staffed.house.all_of(DeedRefused)[0].kinds == ("cases",)


def test_the_chain_still_holds(staffed):
    sit(staffed, MANAGER)
    with pytest.raises(Denied):
        choose_cycle(staffed, Scope.HOUSE, "", 60)
    assert verify(staffed.path).is_sound


# --- PINs -----------------------------------------------------------------------------------


def test_wrong_pins_are_written_down_and_make_one_wait(staffed, clock):
    for _try in range(3):
        with pytest.raises(Refusal, match="wrong_pin"):
            sit_down(staffed, "engineer", "9999")
    assert staffed.seat is None
    with pytest.raises(Refusal, match="pin_wait"):
        sit_down(staffed, "engineer", PIN)  # even the right one
    assert len(refused_rows(staffed.house)) == 3
    sit(staffed, DESK)  # nobody else waits
    get_up(staffed)
    clock.later(seconds=31)
    sit_down(staffed, "engineer", PIN)
    assert staffed.seat.role is ENGINEER


def test_another_window_does_not_begin_to_count_anew(staffed, clock):
    for _try in range(3):
        with pytest.raises(Refusal, match="wrong_pin"):
            sit_down(staffed, "engineer", "9999")
    other = open_hotel(staffed.path, rules(), clock=clock, by="tester")
    with pytest.raises(Refusal, match="pin_wait"):
        sit_down(other, "engineer", PIN)
    other.close()


def test_wrong_pins_before_a_right_one_count_no_more(staffed, clock):
    for _try in range(2):
        with pytest.raises(Refusal, match="wrong_pin"):
            sit_down(staffed, "engineer", "9999")
    sit_down(staffed, "engineer", PIN)
    clock.later(seconds=1)
    with pytest.raises(Refusal, match="wrong_pin"):
        sit_down(staffed, "engineer", "9999")
    assert waiting_until(staffed, "engineer") is None


def test_ones_own_pin_is_changed_for_the_old_one(staffed):
    sit(staffed, HOUSEKEEPER)
    with pytest.raises(Refusal, match="wrong_pin"):
        change_pin(staffed, "9999", "7413")
    change_pin(staffed, PIN, "7413")
    get_up(staffed)
    with pytest.raises(Refusal, match="wrong_pin"):
        sit_down(staffed, "housekeeper", PIN)
    sit_down(staffed, "housekeeper", "7413")
    assert staffed.seat.role is HOUSEKEEPER
