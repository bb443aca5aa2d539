"""People of the hotel: add, change, take a seat at the desk with a PIN, leave it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime

from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.actions.pins import check_pin, fits, hash_of
from hotelwatch.core.facts import Fact
from hotelwatch.core.house import House
from hotelwatch.core.people import counted_since, described, people, wait_until, wrong_pins
from hotelwatch.core.people_facts import DeedRefused, PersonDescribed, StaffRole, WhyRefused
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes

SIT_DOWN = "sit_down"
DESCRIBE = "describe_person"
CHANGE_PIN = "change_pin"


def describe_person(hotel: OpenHotel, name: str, role: StaffRole, *, pin: str = "") -> Changes:
    """Add a person, or give a known one another role, a new PIN, or both.

    The first person is an executive housekeeper and sits at the desk from then on.
    Refusal: "person_needs_name", "person_known_otherwise", "person_needs_pin",
    "first_is_executive", "last_executive", what ``check_pin`` says; Denied by role.
    """
    name = name.strip()
    if not name:
        raise Refusal("person_needs_name")
    if pin:
        check_pin(pin, hotel.house.rules.figures)
    if not hotel.is_guarded and role is not StaffRole.EXECUTIVE:
        raise Refusal("first_is_executive")
    new_hash = hash_of(pin) if pin else ""

    def decide(house: House) -> Sequence[Fact]:
        known = people(house)
        _refuse_namesake(known, name)
        pin_hash = new_hash or (known[name].pin_hash if name in known else "")
        if not pin_hash:
            raise Refusal("person_needs_pin", person=name)
        return described(house, PersonDescribed(name, role, pin_hash))

    if hotel.is_guarded:
        return hotel.record(decide, action=DESCRIBE)
    before = hotel.person, hotel.by
    _seat(hotel, name)
    try:
        return hotel.record(decide, action=DESCRIBE)
    except BaseException:
        hotel.person, hotel.by = before
        raise


def leave_hotel(hotel: OpenHotel, name: str) -> Changes:
    """Let a person work here no more; what was written down stays.

    Refusal: "unknown_person", "last_executive"; Denied by role.
    """

    def decide(house: House) -> Sequence[Fact]:
        known = people(house).get(name)
        if known is None:
            raise Refusal("unknown_person", person=name)
        return described(house, PersonDescribed(name, known.role, known.pin_hash, in_use=False))

    return hotel.record(decide, action="leave_hotel")


def change_pin(hotel: OpenHotel, old: str, new: str) -> Changes:
    """Give who sits at the desk a new PIN, for the old one.

    Refusal: "nobody_at_desk", "wrong_pin", "pin_wait", what ``check_pin`` says.
    """
    known = people(hotel.house).get(hotel.person)
    if known is None:
        raise Refusal("nobody_at_desk")
    check_pin(new, hotel.house.rules.figures)
    _look_at_pin(hotel, known, old, deed=CHANGE_PIN)
    new_hash = hash_of(new)
    return hotel.record(
        lambda _house: [PersonDescribed(known.person, known.role, new_hash)], action=CHANGE_PIN
    )


def sit_down(hotel: OpenHotel, name: str, pin: str) -> None:
    """Let a person sit at the desk; from now on everything is written down in that name.

    A wrong PIN is written down. Refusal: "unknown_person", "wrong_pin", "pin_wait".
    """
    hotel.refresh()
    known = people(hotel.house).get(name)
    if known is None:
        raise Refusal("unknown_person", person=name)
    _look_at_pin(hotel, known, pin, deed=SIT_DOWN)
    _seat(hotel, name)


def get_up(hotel: OpenHotel) -> None:
    """Leave the desk: nothing is written down until somebody sits there again."""
    hotel.person = ""


def waiting_until(hotel: OpenHotel, name: str) -> datetime | None:
    """Before which moment no PIN of that person is looked at; None: at once."""
    now, figures = hotel.now(), hotel.house.rules.figures
    since = counted_since(figures, now)
    if name in hotel.right_pins:
        since = max(since, hotel.right_pins[name])
    until = wait_until(wrong_pins(hotel.house, name, since=since), figures)
    return until if until is not None and until > now else None


def _look_at_pin(hotel: OpenHotel, known: PersonDescribed, pin: str, *, deed: str) -> None:
    until = waiting_until(hotel, known.person)
    if until is not None:
        local = until.astimezone(hotel.zone)
        raise Refusal("pin_wait", person=known.person, clock=f"{local:%H:%M:%S}")
    if not fits(pin, known.pin_hash):
        told = DeedRefused(known.person, known.role, deed, (), WhyRefused.WRONG_PIN)
        hotel.note_denial(told)
        raise Refusal("wrong_pin", person=known.person)
    hotel.right_pins[known.person] = hotel.now()


def _seat(hotel: OpenHotel, name: str) -> None:
    hotel.person = hotel.by = name


def _refuse_namesake(known: Mapping[str, PersonDescribed], name: str) -> None:
    # Names that differ only in their capitals would be one person to everybody.
    for other in known:
        if other != name and other.casefold() == name.casefold():
            raise Refusal("person_known_otherwise", person=name, other=other)
