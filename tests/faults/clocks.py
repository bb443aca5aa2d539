"""The clock set back and forward by days and years while one works."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

from hotelwatch.actions.open_hotel import CHECKS_AT_HAND_DAYS, OpenHotel, open_hotel, whole_house
from hotelwatch.actions.reports import close_month, month_figures
from hotelwatch.core.days import month_of
from hotelwatch.core.facts import MonthClosed
from hotelwatch.core.problems import Refusal
from hotelwatch.store.loading import last_number, load
from hotelwatch.store.verify import verify
from tests.build import rules
from tests.faults.campaign import KEPT, LOST, REFUSED, WRONG, Size, Tally
from tests.faults.deeds import Clock, do, start
from tests.faults.writing import folder

JUMPS_DAYS = (-800, -366, -31, -1, -0.04, 0, 0, 0, 0.01, 1, 31, 366, 800)
Books = dict[str, tuple[datetime, object]]
"""By month: when it was closed, and with which figures."""


def clocks(dice: random.Random, size: Size) -> Iterator[Tally]:
    """Random deeds under a clock that jumps; months closed; a window begun under another clock."""
    tally = Tally("the clock set back and forward, up to 800 days")
    went_back = 0
    for _ in range(size.of(2, 30)):
        with folder() as place:
            went_back += _a_life(place / "house.hotelwatch", dice, tally, size.of(12, 40))
    tally.notes.append(
        f"{went_back:,} entries bear an earlier moment than the one before: remarked"
    )
    yield tally


def _a_life(path: Path, dice: random.Random, tally: Tally, deeds: int) -> int:
    clock = Clock()
    hotel = start(path, clock)
    back = 0
    books: Books = {}
    for _ in range(deeds):
        clock.moment += timedelta(days=dice.choice(JUMPS_DAYS))
        before = last_number(hotel.house)
        moment = max((e.recorded_at for e in list(hotel.house.entries.values())[-1:]), default=None)
        try:
            _deed(hotel, dice, books)
        except Refusal:
            tally.count(REFUSED)
        if last_number(hotel.house) > before and moment and clock.moment < moment:
            back += 1
        wrong = _wrong(hotel)
        tally.count(LOST if wrong else KEPT, wrong)
    hotel.close()
    found = verify(path)
    remarked = sum(fault.code == "clock_went_back" for fault in found.remarks)
    if not found.is_sound or remarked != min(back, 20):
        tally.count(
            WRONG, f"{remarked} remarks for {back} entries that went back; {found.problems}"
        )
    wrong = _months_wrong(path, books)
    tally.count(WRONG if wrong else KEPT, wrong)
    return back


def _deed(hotel: OpenHotel, dice: random.Random, books: Books) -> None:
    if dice.randrange(6) == 0:
        month = month_of(hotel.today() - timedelta(days=dice.choice((32, 62, 400))))
        close_month(hotel, month)
        books[month] = (hotel.now(), month_figures(hotel.path, rules(), month, hotel.now()))
    else:
        do(hotel, dice.randrange(2**32))


def _wrong(hotel: OpenHotel) -> str:
    """What the window shows must be what the file says, whenever it was opened."""
    since = hotel.house.complete_from
    if load(hotel.journal, rules(), checks_since=since) != hotel.house:
        return "the window's house is not the file's"
    fresh = open_hotel(hotel.path, rules(), clock=hotel.now, by="other")
    try:
        whole = whole_house(hotel.path, rules())
        for kind, rows in fresh.house.kept.items():
            if not set(rows) <= set(whole.kept[kind]):
                return f"{kind.__name__} not in the file"
        fresh.occupancy()
    finally:
        fresh.close()
    horizon = hotel.today() - timedelta(days=CHECKS_AT_HAND_DAYS)
    return "" if horizon < hotel.today() else "no horizon"


def _months_wrong(path: Path, books: Books) -> str:
    """Each month that was closed has the book that it was closed with, whatever came later."""
    house = whole_house(path, rules())
    for month, (now, book) in books.items():
        if month_figures(path, rules(), month, now) != book:
            return f"{month} has another book than at its closing"
    months = [fact.month for fact in house.all_of(MonthClosed)]
    return "" if len(months) == len(set(months)) else "a month is closed twice"
