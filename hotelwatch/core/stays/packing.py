"""Spans into gaps with few moves. Days are ordinals here.

First in order of arrival, each span into the gap that ends soonest after it. Where
that makes moves, a search goes through the days keeping the best ways of having
filled the rooms so far. In a small hotel it keeps all of them, so that its moves are
the fewest there are. In a large one it searches around each booking that moves.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush

from hotelwatch.core.stays.gaps import Gap, Put, Span, gaps_between

EFFORT = 12_000
"""Ways × spans × gaps that the search may look at: a bound on time, no figure of the trade."""
ENOUGH_WAYS, MOST_WAYS = 8, 4_000

Place = tuple[int, int]
"""A free gap as (last, room): soonest end first."""
Guest = tuple[int, int, int, int]
"""A span in a gap as (leaves, last of the gap, room, number)."""
Trail = tuple["Trail", tuple[int, int, int]] | None
"""Where spans were put, last first: (number, room, day)."""


def pack(spans: Sequence[Span], gaps: Sequence[Gap]) -> list[Put]:
    """Each span in one gap or, moving when a gap ends, in several.

    No night may have more spans than gaps. Moves are the puts beyond one per span.
    """
    puts = _puts(_in_order_of_arrival(spans, gaps), spans)
    if len(puts) == len(spans):
        return puts
    if len(spans) * len(gaps) * ENOUGH_WAYS > EFFORT:
        return _repair(puts, spans, gaps)
    searched = _puts(_search(spans, gaps), spans)
    return min(puts, searched, key=len)


def _repair(puts: list[Put], spans: Sequence[Span], gaps: Sequence[Gap]) -> list[Put]:
    """Puts with fewer moves: around each span that moves, those it meets are put anew."""
    effort = EFFORT
    times = Counter(put.span for put in puts)
    for mover in (span for span in spans if times[span.number] > 1):
        met = {p.span for p in puts if p.first < mover.leaves and p.last > mover.arrives}
        anew = [span for span in spans if span.number in met]
        kept = [put for put in puts if put.span not in met]
        around = _left_by(kept, anew, gaps)
        needed = len(anew) * len(around) * ENOUGH_WAYS
        if needed > effort:
            continue
        effort -= needed
        better = _puts(_search(anew, around), anew)
        if len(better) + len(kept) < len(puts):
            puts = [*kept, *better]
    return puts


def _left_by(kept: Sequence[Put], anew: Sequence[Span], gaps: Sequence[Gap]) -> list[Gap]:
    """What these puts leave of the gaps while any of the spans is there."""
    first = min(span.arrives for span in anew)
    last = max(span.leaves for span in anew)
    taken: defaultdict[int, list[tuple[int, int]]] = defaultdict(list)
    for put in kept:
        taken[put.room].append((put.first, put.last))
    return [
        Gap(gap.room, begins, ends)
        for gap in gaps
        if gap.first < last and gap.last > first
        for begins, ends in gaps_between(
            taken[gap.room], max(gap.first, first), min(gap.last, last)
        )
    ]


def _puts(steps: Sequence[tuple[int, int, int]], spans: Sequence[Span]) -> list[Put]:
    """Steps (number, room, day) with the day that each ends."""
    end = {span.number: span.leaves for span in spans}
    puts = []
    for number, room, day in reversed(steps):
        puts.append(Put(number, room, day, end[number]))
        end[number] = day
    return puts[::-1]


def _by_day(spans: Sequence[Span]) -> Mapping[int, list[Span]]:
    """Spans of each day of arrival, those that leave last first."""
    days: defaultdict[int, list[Span]] = defaultdict(list)
    for span in sorted(spans, key=lambda s: (-s.leaves, s.number)):
        days[span.arrives].append(span)
    return days


def _best_fit(free: Sequence[Place], leaves: int) -> int:
    """Index of the gap that ends soonest after ``leaves``, else of the one that ends last."""
    return min(bisect_left(free, (leaves, -1)), len(free) - 1)


def _in_order_of_arrival(spans: Sequence[Span], gaps: Sequence[Gap]) -> list[tuple[int, int, int]]:
    """Steps (number, room, day), each put where it fits best when it arrives."""
    arriving = {day: list(group) for day, group in _by_day(spans).items()}
    opening = _openings(gaps)
    days = sorted({*arriving, *opening, *(gap.last for gap in gaps)})
    free: list[Place] = []
    inside: list[Guest] = []
    steps: list[tuple[int, int, int]] = []
    moving: defaultdict[int, list[Span]] = defaultdict(list)
    for day in days:
        while inside and inside[0][0] <= day:
            _, last, room, _ = heappop(inside)
            if last > day:
                insort(free, (last, room))
        for place in opening.get(day, ()):
            insort(free, place)
        del free[: bisect_left(free, (day + 1, -1))]
        for span in (*moving.pop(day, ()), *arriving.get(day, ())):
            last, room = free.pop(_best_fit(free, span.leaves))
            steps.append((span.number, room, day))
            if last < span.leaves:
                moving[last].append(span)
            else:
                heappush(inside, (span.leaves, last, room, span.number))
    return steps


def _openings(gaps: Sequence[Gap]) -> Mapping[int, list[Place]]:
    days: defaultdict[int, list[Place]] = defaultdict(list)
    for gap in gaps:
        days[gap.first].append((gap.last, gap.room))
    return days


# --- the search ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Way:
    """One way of having filled the rooms so far."""

    moves: int
    """Made, or sure to be made because a gap ends before its guest leaves."""
    waste: int
    """Nights lost between departures and the ends of gaps: less leaves more choice."""
    free: tuple[Place, ...]
    inside: tuple[Guest, ...]
    trail: Trail

    @property
    def kind(self) -> tuple[tuple[int, ...], tuple[tuple[int, int], ...]]:
        """What the future depends on: rooms whose gaps end alike are alike."""
        return tuple(last for last, _ in self.free), tuple(g[:2] for g in self.inside)


def _search(spans: Sequence[Span], gaps: Sequence[Gap]) -> list[tuple[int, int, int]]:
    """Steps of the way with the fewest moves among those kept."""
    work = max(1, len(spans) * len(gaps))
    most = min(MOST_WAYS, max(ENOUGH_WAYS, EFFORT // work))
    arriving, opening = _by_day(spans), _openings(gaps)
    ways = [_Way(0, 0, (), (), None)]
    for day in sorted({*arriving, *opening, *(gap.last for gap in gaps)}):
        grown = [
            fuller
            for way in ways
            for fuller in _fill(way, day, opening.get(day, ()), arriving.get(day, ()), most)
        ]
        ways = _best(grown, most)
    return _steps(ways[0].trail)


def _steps(trail: Trail) -> list[tuple[int, int, int]]:
    steps = []
    while trail is not None:
        trail, step = trail
        steps.append(step)
    return steps[::-1]


def _best(ways: list[_Way], most: int) -> list[_Way]:
    """The best of each kind, at most so many, best first."""
    if len(ways) == 1:
        return ways
    seen: dict[object, _Way] = {}
    for way in sorted(ways, key=lambda w: (w.moves, w.waste)):
        seen.setdefault(way.kind, way)
        if len(seen) == most:
            break
    return list(seen.values())


def _fill(
    way: _Way, day: int, opened: Sequence[Place], arrived: Sequence[Span], most: int
) -> list[_Way]:
    """Every way to go on from this one through a day."""
    free = [place for place in (*way.free, *opened) if place[0] > day]
    free += [(last, room) for leaves, last, room, _ in way.inside if leaves <= day < last]
    moving = [
        Span(number, day, leaves) for leaves, last, _, number in way.inside if last <= day < leaves
    ]
    inside = tuple(guest for guest in way.inside if guest[0] > day and guest[1] > day)
    ways = [_Way(way.moves, way.waste, tuple(sorted(free)), inside, way.trail)]
    for span in (*moving, *arrived):
        ways = _best([fuller for one in ways for fuller in _choices(one, span, day)], most)
    return ways


def _choices(way: _Way, span: Span, day: int) -> Iterator[_Way]:
    """Ways to put one more span; of gaps that end alike the first stands for all."""
    ends: set[int] = set()
    for index, (last, room) in enumerate(way.free):
        if last in ends:
            continue
        ends.add(last)
        guest = (span.leaves, last, room, span.number)
        yield _Way(
            moves=way.moves + (last < span.leaves),
            waste=way.waste + max(0, last - span.leaves),
            free=way.free[:index] + way.free[index + 1 :],
            inside=tuple(sorted((*way.inside, guest))),
            trail=(way.trail, (span.number, room, day)),
        )
