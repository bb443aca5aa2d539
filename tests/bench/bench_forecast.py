"""How true the chances of windows come, on a resort's real bookings revealed day by day.

Run: python -m tests.bench.bench_forecast

The bookings, and the invented hotel around them, are those of tests/journeys/test_resort.py.
The forecast learns from what was known each morning; the figures it assumes were chosen
on the bookings of July 2015 to June 2016, and are judged here on the year after; the form
of the rule was settled with both years in view, so that year is not wholly unseen. The
score is Brier's (1950, "Verification of forecasts expressed in terms of probability",
Monthly Weather Review 78, from memory): the mean squared difference of chance and outcome.
"""

from __future__ import annotations

import csv
import gzip
import sys
from collections import defaultdict
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from random import Random
from time import perf_counter

from hotelwatch.core.days import days_from
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.records import Stay
from hotelwatch.core.stays.chances import chances
from hotelwatch.core.stays.forecast import learn
from hotelwatch.core.stays.openings import occupancy
from tests.bench.bench_rounds import hotel
from tests.build import day
from tests.journeys.test_resort import BOOKINGS, ROOM_TYPES, Booked, Desk, a_resort

AHEAD = 28
SETTLED_DAYS = 14
"""Days that the desk runs before it is asked: guests in house get their rooms."""
NAMES = ("chances", "chances, days of booking unsaid", "the mean", "known bookings only")


@dataclass
class Outcomes:
    """Chances said and what came, by who said it; for a table and a score."""

    pairs: dict[str, list[tuple[int, float, bool]]] = field(
        default_factory=lambda: defaultdict(list)
    )

    def add(self, name, ahead, chance, came):
        self.pairs[name].append((ahead, chance, came))

    def brier(self, name, aheads=range(1, AHEAD + 1)):
        chosen = [pair for pair in self.pairs[name] if pair[0] in aheads]
        return sum((chance - came) ** 2 for _, chance, came in chosen) / len(chosen)

    def bins(self, name):
        """Tenth of chance → how many, mean chance said, share that came true."""
        groups = defaultdict(list)
        for _, chance, came in self.pairs[name]:
            groups[min(9, int(chance * 10))].append((chance, came))
        return {
            tenth: (len(g), sum(c for c, _ in g) / len(g), sum(came for _, came in g) / len(g))
            for tenth, g in sorted(groups.items())
        }


def all_bookings():
    """Every booking of the file that has a night, with its day of booking."""
    with gzip.open(BOOKINGS, "rt", encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            arrival = date.fromisoformat(row["arrival"])
            leaves = arrival + timedelta(days=int(row["nights"]))
            booked_on = date.fromisoformat(row["booked_on"])
            stay = Stay(row["booking"], "", row["booked_type"], arrival, leaves)
            if leaves > arrival:
                yield Booked(
                    replace(stay, booked_on=booked_on),
                    booked_on,
                    None if row["status"] == "stayed" else date.fromisoformat(row["status_on"]),
                )


def judged(from_on, until_on, *, every):
    """Chances said on every so many mornings of a span, for the days after each."""
    rows = list(all_bookings())
    start = from_on - timedelta(days=SETTLED_DAYS)
    coming = [row for row in rows if row.stay.leaves_on > start]
    desk = Desk(sorted(coming, key=lambda b: (b.booked_on, b.stay.booking), reverse=True))
    house = a_resort().house
    said = []
    for today in days_from(start, (until_on - start).days + AHEAD + 2):
        present = desk.read(today)
        seen = occupancy(house.with_stays(present), today)
        if from_on <= today <= until_on and (today - from_on).days % every == 0:
            over = [
                replace(row.stay, room=desk.given.get(row.stay.booking, ""))
                for row in rows
                if row.fell_through_on is None and row.stay.leaves_on < today
            ]
            said.append((today, _said(house, [*over, *present], seen, today)))
        desk.welcome(today, seen)
    outcomes = Outcomes()
    for today, by_name in said:
        for number, on in enumerate(days_from(today + timedelta(days=1), AHEAD)):
            for room in ROOM_TYPES:
                came = not desk.stays_over(room, on)
                for name in NAMES:
                    outcomes.add(name, number + 1, by_name[name][room][number], came)
    return outcomes


def _said(house, stays, seen, today):
    days = tuple(days_from(today + timedelta(days=1), AHEAD))
    house = house.with_stays(stays)
    forecast = learn(house, today)
    unsaid = learn(house.with_stays(replace(s, booked_on=None) for s in stays), today)
    assert forecast.knows_booking_days
    assert not unsaid.knows_booking_days
    mean = 1 - forecast.let.of_house * forecast.goes_on.of_house
    return dict(
        zip(
            NAMES,
            (
                chances(house, seen, forecast, days=days).by_room,
                chances(house, seen, unsaid, days=days).by_room,
                dict.fromkeys(ROOM_TYPES, (mean,) * AHEAD),
                {
                    room: tuple(float(seen.opening(RoomNo(room), on) is not None) for on in days)
                    for room in ROOM_TYPES
                },
            ),
            strict=True,
        )
    )


def print_table(outcomes):
    for name in NAMES:
        scores = ", ".join(
            f"{first}-{last} days {outcomes.brier(name, range(first, last + 1)):.4f}"
            for first, last in ((1, 28), (1, 7), (8, 14), (15, 28))
        )
        sys.stdout.write(f"Brier score, {name}: {scores}\n")
    for name in NAMES[:2]:
        sys.stdout.write(f"{name}: chance said, share that came true, room-days\n")
        for count, chance, came in outcomes.bins(name).values():
            sys.stdout.write(f"  {chance:5.2f} {came:5.2f} {count:8d}\n")


def time_it(rooms):
    """How long learning and chances take in an invented hotel with a year of stays."""
    house = hotel(rooms, days=60, given=0.3)
    random = Random(5)
    past = []
    for kind in sorted({room.room_type for room in house.rooms.values()}):
        own = [room.room for room in house.rooms.values() if room.room_type == kind]
        for number, room in enumerate(own):
            at = -365
            while at < -30:
                nights = random.choice((1, 1, 2, 2, 3, 4, 7))
                arrives, leaves = day(at), day(at + nights)
                booked_on = arrives - timedelta(days=random.randint(0, 60))
                stay = Stay(f"p{kind}{number}{at}", room, kind, arrives, leaves)
                past.append(replace(stay, booked_on=booked_on))
                at += nights + random.choice((0, 0, 1, 2))
    house = house.with_stays((*past, *house.stays))
    seen = occupancy(house, day(0))
    began = perf_counter()
    forecast = learn(house, day(0))
    learnt = perf_counter()
    times = []
    for _ in range(5):
        start = perf_counter()
        chances(house, seen, forecast, days=tuple(days_from(day(0), AHEAD)))
        times.append(perf_counter() - start)
    sys.stdout.write(
        f"{rooms} rooms x {AHEAD} days, {len(house.stays)} stays: learning"
        f" {(learnt - began) * 1000:.0f} ms,"
        f" chances {sorted(times)[2] * 1000:.0f} ms (median of 5)\n"
    )


def main():
    for rooms in (2000, 7000):
        time_it(rooms)
    print_table(judged(date(2016, 7, 4), date(2017, 7, 31), every=7))


if __name__ == "__main__":
    main()
