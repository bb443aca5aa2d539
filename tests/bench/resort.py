"""A year of a resort's real bookings as a world for policies; the hotel around them is invented.

Bookings: Antonio, Almeida, Nunes, "Hotel booking demand datasets", Data in Brief 22 (2019),
41-49, CC BY 4.0. Rooms of each type as many as were let at once; every stay has the room
of its type that was free the shortest, from the day it was booked on. Bookings that fell
through are left out. Beds, cycles and teams are drawn as for an invented hotel.
"""

from __future__ import annotations

import csv
import gzip
from collections import defaultdict
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from tests.bench.invented import MARGIN, beds_and_cycles, staffed

BOOKINGS = Path(__file__).parents[2] / ".." / "shared" / "data" / "resort_bookings.csv.gz"
FIRST = date(2016, 7, 1)
DAYS = 365


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
    return staffed(rng, made, [np.array(c) for c in zip(*columns, strict=True)], load, DAYS)


def _stays():
    with gzip.open(BOOKINGS, "rt", encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            arrival = date.fromisoformat(row["arrival"])
            nights = int(row["nights"])
            leaves = arrival + timedelta(days=nights)
            if row["status"] != "stayed" or not nights or leaves < FIRST:
                continue
            if arrival > FIRST + timedelta(days=DAYS + MARGIN):
                continue
            known = date.fromisoformat(row["booked_on"])
            yield (
                (arrival - FIRST).days,
                (leaves - FIRST).days,
                row["given_type"],
                (known - FIRST).days,
            )


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
