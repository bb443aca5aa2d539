"""A year of a resort's real bookings as a world for policies; the hotel around them is invented.

Bookings: Antonio, Almeida, Nunes, "Hotel booking demand datasets", Data in Brief 22 (2019),
41-49, CC BY 4.0. Rooms of each type as many as were let at once; every stay has the room
of its type that was free the shortest, from the day it was booked on. Bookings that fell
through are left out. Beds, cycles and teams are drawn as for an invented hotel. How long
guests stay and how often rooms are open is learned from the year before.
"""

from __future__ import annotations

import csv
import gzip
from collections import Counter, defaultdict
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from hotelwatch.core.planning.letting import Letting
from tests.bench.invented import MARGIN, beds_and_cycles, staffed

BOOKINGS = Path(__file__).parents[2] / ".." / "shared" / "data" / "resort_bookings.csv.gz"
FIRST = date(2016, 7, 1)
DAYS = 365
YEAR = timedelta(days=365)


def resort(*, seed=1, load=0.85):
    """The world from 1 July 2016 on, day 0, and the 365 days after it."""
    stays = sorted(_stays())
    rooms_of, room_of = _given_rooms(stays)
    rooms = sum(rooms_of.values())
    rng = np.random.default_rng([seed, rooms])
    columns = [
        (room_of[number], arrives, leaves, leaves, known)
        for number, (arrives, leaves, _, known) in enumerate(stays)
        if number in room_of
    ]
    made = beds_and_cycles(rng, rooms)
    world = staffed(rng, made, [np.array(c) for c in zip(*columns, strict=True)], load, DAYS)
    return replace(world, letting=_letting(rooms))


def _letting(rooms):
    """What the bookings of the year before tell."""
    lengths = Counter(
        nights for arrival, nights, _, _ in _stayed() if FIRST - YEAR <= arrival < FIRST
    )
    stayed_on = sum((nights - 1) * stays for nights, stays in lengths.items())
    return Letting(lengths, 1 - stayed_on / (rooms * YEAR.days))


def _stays():
    """Those that reach the year, by number of the day: arrival, departure, type, when known."""
    for arrival, nights, kind, known in _stayed():
        leaves = arrival + timedelta(days=nights)
        if leaves >= FIRST and arrival <= FIRST + timedelta(days=DAYS + MARGIN):
            yield (arrival - FIRST).days, (leaves - FIRST).days, kind, (known - FIRST).days


def _stayed():
    """Arrival, nights, room type and the day of booking of all that came to something."""
    with gzip.open(BOOKINGS, "rt", encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            nights = int(row["nights"])
            if row["status"] == "stayed" and nights:
                arrival, known = map(date.fromisoformat, (row["arrival"], row["booked_on"]))
                yield arrival, nights, row["given_type"], known


def _given_rooms(stays):
    """Rooms of each type, and the room of each stay: of those free the one left last."""
    free_from = defaultdict(list)
    numbers = {}
    room_of = {}
    for number, (arrives, leaves, kind, _) in enumerate(stays):
        rooms = free_from[kind]
        fit = [place for place, free in enumerate(rooms) if free <= arrives]
        if fit:
            place = max(fit, key=lambda p: rooms[p])
            rooms[place] = leaves
        else:
            place = len(rooms)
            rooms.append(leaves)
        room_of[number] = numbers.setdefault((kind, place), len(numbers))
    return {kind: len(rooms) for kind, rooms in free_from.items()}, room_of
