from __future__ import annotations

import os
from datetime import timedelta

import argon2
import click
import pytest
from click.testing import CliRunner

from hotelwatch.cli import seat
from hotelwatch.cli.common import Desk
from hotelwatch.cli.main import commands

PINS = {"Eva": "2580", "Ana": "1479", "Dan": "3691"}
ROLES = {"Eva": "executive_housekeeper", "Ana": "housekeeper", "Dan": "front_desk_clerk"}


@pytest.fixture(autouse=True)
def quick(monkeypatch):
    """Hash with the least costs, so that tests do not wait."""
    hasher = argon2.PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)
    monkeypatch.setattr("hotelwatch.actions.people.hash_of", hasher.hash)


def pin_file(hotel, name):
    return hotel.table(f"{name}.pin", PINS[name] + "\n")


@pytest.fixture
def staffed(hotel):
    """The inn with three people; ``as_`` gives the words with which one of them is let in."""

    def as_(name):
        return ("--as", name, "--pin-file", pin_file(hotel, name))

    for name, role in ROLES.items():
        by = as_("Eva") if name != "Eva" else ()
        file = pin_file(hotel, name)
        hotel("person", hotel.file, name, "--role", role, "--new-pin-file", file, *by)
    hotel.as_ = as_
    return hotel


def test_every_command_on_a_hotel_has_its_decision():
    on_hotels = {
        words
        for words, command in seat.each_command(commands)
        if any(param.name == "hotel_file" for param in command.params)
    } - seat.WITHOUT_HOTEL
    assert on_hotels - set(seat.SHOWS) == set()
    for words, command in seat.each_command(commands):
        names = {option for param in command.params for option in param.opts}
        assert ("--as" in names) is (words not in seat.WITHOUT_HOTEL), words
        # A PIN is no word of a command: it would stand in the list of processes.
        assert not any(name.endswith("pin") and _takes_text(command, name) for name in names)


def _takes_text(command, name):
    (option,) = [param for param in command.params if name in param.opts]
    return not getattr(option, "is_flag", False) and not isinstance(option, click.Argument)


def test_the_first_person_is_an_executive_housekeeper(hotel):
    file = pin_file(hotel, "Ana")
    words = ("person", hotel.file, "Ana", "--role", "housekeeper", "--new-pin-file", file)
    assert "first person must be an executive housekeeper" in hotel(*words, exit_code=1)
    assert "Nobody is written down" in hotel("people", hotel.file)


def test_people_are_listed_with_their_roles(staffed):
    said = staffed("people", staffed.file, *staffed.as_("Eva"))
    assert [line.split()[:2] for line in said.splitlines()[1:]] == [
        ["Ana", "Housekeeper"],
        ["Dan", "Front"],
        ["Eva", "Executive"],
    ]


def test_without_a_name_nothing_is_written_and_no_case_is_shown(staffed):
    before = staffed.file.stat().st_size
    for words in (
        ("cycle", staffed.file, "60"),
        ("sighting", staffed.file, "101", "live_insect"),
        ("list", "cases", staffed.file),
        ("next", staffed.file),
        ("list", "entries", staffed.file),
        ("check-file", staffed.file),
        ("month", staffed.file, "2026-03"),
    ):
        assert "Nobody sits at the desk" in staffed(*words, exit_code=1)
    assert staffed.file.stat().st_size >= before  # the refusals
    said = staffed("people", staffed.file, "--refused", *staffed.as_("Eva"))
    assert len(said.splitlines()) == 1 + 7


def test_a_role_does_what_it_may_in_its_own_name(staffed):
    staffed("cycle", staffed.file, "60", *staffed.as_("Eva"))
    said = staffed("list", "entries", staffed.file, "--last", "1", *staffed.as_("Eva"))
    assert "Eva" in said
    assert "Cycle chosen" in said
    refused = staffed("cycle", staffed.file, "30", *staffed.as_("Ana"), exit_code=1)
    assert "not shown to your role" not in refused
    assert "Executive housekeeper and Supervisor" in refused


def test_front_desk_logs_what_is_reported_and_reads_no_detail(staffed):
    words = ("sighting", staffed.file, "101", "live_insect", "--place", "headboard_front")
    said = staffed(*words, *staffed.as_("Dan"))
    assert said == (
        "Written down; housekeeping knows.\nRoom 101 is not to be sold: block it now.\n"
    )
    for listed in (("list", "cases"), ("list", "quarantine"), ("list", "entries"), ("next",)):
        refused = staffed(*listed, staffed.file, *staffed.as_("Dan"), exit_code=1)
        assert "not shown to your role (Front desk)" in refused
    said = staffed("list", "front-desk", staffed.file, *staffed.as_("Dan"))
    assert "101" in said
    for detail in ("2026-001", "insect", "headboard", "Dan"):
        assert detail.lower() not in said.lower()
    refused = staffed(
        "desk-calendar",
        staffed.file,
        staffed.folder / "d.ics",
        "--deadlines",
        *staffed.as_("Dan"),
        exit_code=1,
    )
    assert "not shown to your role" in refused


def test_a_pin_is_asked_for_without_being_shown(staffed):
    result = CliRunner().invoke(
        commands,
        ["cycle", str(staffed.file), "60", "--as", "Eva"],
        obj=Desk(clock=lambda: staffed.now),
        input="2580\n",
    )
    assert result.exit_code == 0, result.output
    assert "2580" not in result.output


def test_a_pin_comes_by_a_descriptor_or_standard_input(staffed):
    reading, writing = os.pipe()
    os.write(writing, b"2580\n")
    os.close(writing)
    staffed("cycle", staffed.file, "60", "--as", "Eva", "--pin-file", f"/dev/fd/{reading}")
    os.close(reading)
    result = CliRunner().invoke(
        commands,
        ["cycle", str(staffed.file), "61", "--as", "Eva", "--pin-file", "-"],
        obj=Desk(clock=lambda: staffed.now),
        input="2580\n",
    )
    assert result.exit_code == 0, result.output


def test_wrong_pins_make_one_wait_from_command_to_command(staffed):
    wrong = staffed.table("wrong.pin", "9999\n")
    words = ("cycle", staffed.file, "60", "--as", "Eva", "--pin-file")
    for _try in range(3):
        assert "not the PIN of Eva" in staffed(*words, wrong, exit_code=1)
    assert "Wait until" in staffed(*words, pin_file(staffed, "Eva"), exit_code=1)
    staffed.now += timedelta(seconds=31)
    staffed(*words, pin_file(staffed, "Eva"))


def test_a_role_changes_and_somebody_leaves(staffed):
    staffed("person", staffed.file, "Dan", "--role", "supervisor", *staffed.as_("Eva"))
    staffed("cycle", staffed.file, "60", *staffed.as_("Dan"))
    staffed("person", staffed.file, "Dan", "--gone", *staffed.as_("Eva"))
    assert "Nobody called Dan" in staffed(
        "cycle", staffed.file, "60", *staffed.as_("Dan"), exit_code=1
    )
    last = staffed("person", staffed.file, "Eva", "--gone", *staffed.as_("Eva"), exit_code=1)
    assert "Nobody would be left" in last
    refused = staffed(
        "person", staffed.file, "Ana", "--role", "supervisor", *staffed.as_("Ana"), exit_code=1
    )
    assert "not for your role" in refused


def test_a_damaged_file_is_still_gone_through(hotel):
    content = bytearray(hotel.file.read_bytes())
    hotel.file.write_bytes(content[: len(content) // 2])
    assert "Nobody sits" not in hotel("check-file", hotel.file, exit_code=1)
