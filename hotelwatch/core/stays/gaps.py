"""Gaps between stays, and which bookings are too many for them. Days are ordinals here."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush


@dataclass(frozen=True, slots=True, order=True)
class Gap:
    """Nights ``first`` to before ``last`` in which a room is nobody's."""

    room: int
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Span:
    """A booking's nights, ``arrives`` to before ``leaves``."""

    number: int
    arrives: int
    leaves: int


@dataclass(frozen=True, slots=True)
class Put:
    """A booking, or a part of it, in a room."""

    span: int
    room: int
    first: int
    last: int


def gaps_between(
    taken: Iterable[tuple[int, int]], first: int, last: int
) -> Iterator[tuple[int, int]]:
    """Free stretches of a room from ``first`` to before ``last``."""
    free_from = first
    for begins, ends in sorted(taken):
        if begins >= last:
            break
        if begins > free_from:
            yield free_from, begins
        free_from = max(free_from, ends)
    if free_from < last:
        yield free_from, last


def trim_to_rooms(spans: Sequence[Span], gaps: Iterable[Gap]) -> tuple[list[Span], frozenset[int]]:
    """Spans such that no night has more of them than gaps, and the numbers of those left out.

    The fewest are left out: on the first night with too many, one of that night's
    spans must go, and the one that leaves last eases every later night the most.
    """
    change: defaultdict[int, int] = defaultdict(int)
    for gap in gaps:
        change[gap.first] += 1
        change[gap.last] -= 1
    arrivals: defaultdict[int, list[Span]] = defaultdict(list)
    for span in spans:
        arrivals[span.arrives].append(span)
    dropped: set[int] = set()
    longest: list[tuple[int, int]] = []
    departing: list[tuple[int, int]] = []
    rooms = present = 0
    for day in sorted({*change, *arrivals, *(span.leaves for span in spans)}):
        rooms += change[day]
        while departing and departing[0][0] <= day:
            present -= heappop(departing)[1] not in dropped
        for span in arrivals[day]:
            heappush(longest, (-span.leaves, -span.number))
            heappush(departing, (span.leaves, span.number))
            present += 1
        while present > rooms:
            dropped.add(-heappop(longest)[1])
            present -= 1
    return [span for span in spans if span.number not in dropped], frozenset(dropped)
