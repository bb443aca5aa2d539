"""Who gets which: as many as possible, those named first before others, at the least cost.

Rows are taken in their order. Each is given a column by a shortest augmenting path, on
which rows placed before may change theirs but never lose it. So the rows that get one
are the first ones that can be served together, and as many as can be (the sets of rows
that can be served together form a matroid), and what they get costs the least in all.

Source: successive shortest paths with prices: Ahuja, Magnanti, Orlin, Network Flows
(1993), 9.7 and 12.4, from memory. Edges are drawn only as far as the cheapest column
that nobody has: a dearer one can't be on a shortest path, since prices are never above 0.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush

Edge = tuple[int, int]
"""Cost and column."""


def assign(rows: Sequence[Iterable[Edge]]) -> list[int | None]:
    """The column of each row; None where none is left for it.

    Each row gives its edges with their costs, whole numbers from 0 on, the cheapest
    first, each column once. They are drawn only as far as they are needed.
    """
    matching = _Matching([_Edges(iter(edges)) for edges in rows])
    for row in range(len(rows)):
        matching.place(row)
    return matching.column_of


class _Edges:
    """A row's edges, kept as they are drawn."""

    def __init__(self, source: Iterator[Edge]) -> None:
        self._source = source
        self._drawn: list[Edge] = []

    def __iter__(self) -> Iterator[Edge]:
        yield from self._drawn
        for edge in self._source:
            self._drawn.append(edge)
            yield edge


@dataclass
class _Search:
    """One row's search for the nearest free column."""

    dist: dict[int, int] = field(default_factory=dict)
    came_from: dict[int, int] = field(default_factory=dict)
    """The row from which each column was reached at its distance."""
    done: list[int] = field(default_factory=list)
    """Columns of rows that were asked to change, the nearest first."""
    heap: list[tuple[int, int]] = field(default_factory=list)


class _Matching:
    def __init__(self, rows: list[_Edges]) -> None:
        self._rows = rows
        self.column_of: list[int | None] = [None] * len(rows)
        self._row_of: dict[int, int] = {}
        self._row_price = [0] * len(rows)
        self._price: dict[int, int] = {}
        """Of columns; 0 for one that nobody has."""

    def place(self, row: int) -> None:
        """Give a row a column, if one is left."""
        search = _Search()
        self._relax(search, row, 0)
        while search.heap:
            dist, column = heappop(search.heap)
            if dist > search.dist[column]:
                continue
            holder = self._row_of.get(column)
            if holder is None:
                self._settle(search, row, column)
                return
            search.done.append(column)
            self._relax(search, holder, dist - self._row_price[holder])

    def _relax(self, search: _Search, row: int, offset: int) -> None:
        for cost, column in self._rows[row]:
            price = self._price.get(column, 0)
            dist = offset + cost - price
            known = search.dist.get(column)
            if known is None or dist < known:
                search.dist[column] = dist
                search.came_from[column] = row
                heappush(search.heap, (dist, column))
            if column not in self._row_of:
                return

    def _settle(self, search: _Search, row: int, free: int) -> None:
        """Pass columns along the path and set prices, so that no edge is below its price."""
        reach = search.dist[free]
        for column in search.done:
            less = reach - search.dist[column]
            self._price[column] = self._price.get(column, 0) - less
            self._row_price[self._row_of[column]] += less
        self._row_price[row] = reach
        column = free
        while True:
            taker = search.came_from[column]
            left, self.column_of[taker] = self.column_of[taker], column
            self._row_of[column] = taker
            if taker == row:
                return
            assert left is not None  # only the searching row had no column
            column = left
