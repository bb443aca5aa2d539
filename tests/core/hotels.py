"""Random hotels for laws: wings at odd angles, floors skipped, bays left out."""

from __future__ import annotations

from hypothesis import strategies as st

from hotelwatch.core.facts import FloorPlaced, RoomDescribed, RoomNo, Side, WingPlaced
from hotelwatch.core.records import Entry
from tests.build import house, moment

WIDTHS = (0.0, 3.0, 3.5, 4.0, 5.2, 8.0)
"""Multiples of 0.1 m: no common length comes near a limit by rounding alone."""


def with_facts(this, *facts, floors=None):
    """The house after one more entry."""
    placed = [FloorPlaced(floor, level) for floor, level in (floors or {}).items()]
    number = max(this.entries, default=0) + 1
    entry = Entry(number, moment(number), "tester", "test", "", None, "test", "")
    return this.add(entry, (*placed, *facts))


@st.composite
def hotels(draw, wings=3):
    """A house of up to ``wings`` wings on up to three floors."""
    floors = draw(st.sampled_from([("1",), ("1", "2"), ("G", "1", "2"), ("11", "12", "14")]))
    names = [f"W{number}" for number in range(draw(st.integers(1, wings)))]
    facts = [WingPlaced(name, *draw(_places())) for name in names if draw(st.booleans())]
    rooms = []
    for floor in floors:
        for name in names:
            for side in Side:
                orders = st.lists(
                    st.integers(1, 7), max_size=2 if side is Side.END else 5, unique=True
                )
                for order in draw(orders):
                    label = RoomNo(f"{floor}-{name}-{side[0]}{order}")
                    width = draw(st.sampled_from(WIDTHS))
                    rooms.append(RoomDescribed(label, floor, name, side, order, width_m=width))
    if not rooms:
        rooms = [RoomDescribed(RoomNo("1"), floors[0], names[0], Side.LEFT, 1)]
    ties = st.lists(st.tuples(*[st.sampled_from(range(len(rooms)))] * 2), max_size=3)
    facts += _tied(rooms, draw(ties), draw(ties))
    return with_facts(house().floors(*floors).house, *facts)


def _places():
    """Starts on a grid of 0.1 m that let wings touch, cross or stand apart."""
    step = st.integers(-150, 150).map(lambda tenths: tenths / 10)
    return st.tuples(step, step, st.sampled_from((0.0, 30.0, 45.0, 90.0, 135.0, 180.0, 270.0)))


def _tied(rooms, doors, suites):
    """The rooms with connecting doors (said in one row only) and suites."""
    connects = {a: rooms[b].room for a, b in doors if a != b}
    suite = {n: f"S{number}" for number, pair in enumerate(suites) for n in pair}
    return [
        RoomDescribed(
            room.room,
            room.floor,
            room.wing,
            room.side,
            room.order,
            connects_to=(connects[number],) if number in connects else (),
            suite=suite.get(number, ""),
            width_m=room.width_m,
        )
        for number, room in enumerate(rooms)
    ]
