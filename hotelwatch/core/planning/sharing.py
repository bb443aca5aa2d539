"""Teams' sheets out of a day's visits: whole corridors to one team wherever that goes.

A corridor's visits on a day are a load. Which teams' minutes can be made up of which loads
is a sum over subsets, kept as bits of whole numbers; a corridor is shared among teams only
where no way without that was found.

Sources, from memory: subset sums by dynamic programming (Bellman 1957); bins filled one by one
with the least slack, around the longest item left (Gupta and Ho 1999; Fleszar and Hindi 2002).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np

from hotelwatch.core.planning.board import Board
from hotelwatch.core.planning.problem import Ints

TURNS = 3
"""Orders of loads that are tried where more than three teams share a day."""
THREE = 3
APART = ((1, 8), (2, 4))
"""How many corridors are tried as single visits, and of how many of the largest."""
SINGLY = (2, 4, 8)
"""Corridors of a day taken apart together."""

Loads = Sequence[int]
Shares = list[list[int]]
"""The numbers of the loads that each team has."""


def share_out(board: Board, merged: Board, of: Ints) -> list[int]:
    """Puts the plan of a merged board on the sheets; what does not fit is left out.

    Returns the merged sheets whose visits do not all fit.
    """
    board.clear()
    failed = []
    for place in range(merged.out):
        rows, sheets = np.flatnonzero(merged.at == place), np.flatnonzero(of == place)
        found = _shared(board, rows, sheets)
        if found is None:
            failed.append(place)
            _put_singly(board, rows, sheets)
            continue
        for sheet, visits in zip(sheets, found, strict=True):
            for visit in visits.tolist():
                board.move(visit, int(sheet))
    return failed


def extra_ways(board: Board, rows: Ints, sheets: Ints) -> int | None:
    """Ways beyond one for each corridor if visits are shared among sheets; None: not all fit."""
    found = _shared(board, rows, sheets)
    if found is None:
        return None
    ways = sum(len(np.unique(board.area[visits])) for visits in found)
    return ways - len(np.unique(board.area[rows]))


def part_whole(board: Board, rows: Ints, sheets: Ints) -> list[Ints] | None:
    """The visits of each sheet with one way to each corridor; None if no way was found."""
    return _parted(board, next(_groupings(board, rows)), _have(board, sheets))


def _shared(board: Board, rows: Ints, sheets: Ints) -> list[Ints] | None:
    """The visits of each sheet; None if no way was found."""
    have = _have(board, sheets)
    parted = (_parted(board, groups, have) for groups in _groupings(board, rows))
    return next((found for found in parted if found is not None), None)


def _parted(board: Board, groups: Sequence[Ints], have: Loads) -> list[Ints] | None:
    shares = share([_load(board, group) for group in groups], have)
    if shares is None:
        return None
    nothing = np.zeros(0, np.int64)
    return [np.concatenate([nothing, *(groups[n] for n in one)]) for one in shares]


def _groupings(board: Board, rows: Ints) -> Iterator[list[Ints]]:
    """Whole corridors first; then one of them as single visits; then the largest ones."""
    areas = np.unique(board.area[rows])
    whole = [rows[board.area[rows] == area] for area in areas]
    whole.sort(key=lambda group: -len(group))
    yield whole
    for count, most in APART:
        for apart in combinations(range(min(most, len(whole))), count):
            kept = [group for number, group in enumerate(whole) if number not in apart]
            yield kept + _singly(np.concatenate([whole[number] for number in apart]))
    for number in SINGLY:
        if number < len(whole):
            yield whole[number:] + _singly(np.concatenate(whole[:number]))
    yield _singly(rows)


def _singly(rows: Ints) -> list[Ints]:
    return [row[None] for row in rows]


def _have(board: Board, sheets: Ints) -> list[int]:
    minutes: list[int] = board.sheets.minutes[sheets].tolist()
    return minutes


def _load(board: Board, group: Ints) -> int:
    return int(board.minutes[group].sum() + board.way)


def _put_singly(board: Board, rows: Ints, sheets: Ints) -> None:
    """The longest first, each where its corridor is already, else where most is left."""
    for visit in rows[np.argsort(-board.minutes[rows], kind="stable")]:
        is_there = board.count[board.area[visit], sheets] > 0
        need = board.minutes[visit] + board.way * ~is_there
        left = board.left[sheets] - need
        fits = left >= 0
        if fits.any():
            board.move(visit, sheets[np.lexsort((-left, ~is_there, ~fits))[0]])


def share(loads: Loads, have: Loads) -> Shares | None:
    """Loads for each team within its minutes, or None if no way was found."""
    if sum(loads) > sum(have) or (loads and max(loads) > max(have)):
        return None
    numbers = list(range(len(loads)))
    for turn in range(TURNS if len(have) > THREE else 1):
        order = numbers[turn:] + numbers[:turn]
        shares = _share(loads, have, order)
        if shares is not None:
            return shares
    if len(have) <= THREE:
        return None
    numbers.sort(key=lambda number: -loads[number])
    return _share(loads, have, numbers, is_longest_first=True)


def _share(
    loads: Loads, have: Loads, numbers: list[int], *, is_longest_first: bool = False
) -> Shares | None:
    """Teams filled one by one as far as they go; the last three together.

    With ``is_longest_first`` each around the longest load left, which is the hardest to place.
    """
    shares: Shares = []
    for minutes in have[: max(0, len(have) - THREE)]:
        longest = [n for n in numbers if loads[n] <= minutes][: int(is_longest_first)]
        left = [n for n in numbers if n not in longest]
        taken = longest + _fullest(loads, left, minutes - sum(loads[n] for n in longest))
        shares.append(taken)
        numbers = [n for n in numbers if n not in taken]
    last = _among_three(loads, numbers, [0, 0, 0, *have][-THREE:])
    return None if last is None else (shares + last)[-len(have) :]


def _fullest(loads: Loads, numbers: list[int], minutes: int) -> list[int]:
    """The loads that come nearest to so many minutes."""
    within = (1 << (minutes + 1)) - 1
    sums = [1]
    for number in numbers:
        sums.append((sums[-1] | sums[-1] << loads[number]) & within)
    most = sums[-1].bit_length() - 1
    taken = []
    for place in range(len(numbers) - 1, -1, -1):
        if not sums[place] >> most & 1:
            taken.append(numbers[place])
            most -= loads[numbers[place]]
    return taken


def _among_three(loads: Loads, numbers: list[int], have: Loads) -> Shares | None:
    """Loads for three teams; exact. The first two's sums so far, as bits of the second's."""
    first, second, third = have
    total = sum(loads[n] for n in numbers)
    within = (1 << (second + 1)) - 1
    steps = [{0: 1}]
    for number in numbers:
        load, before = loads[number], steps[-1]
        after: dict[int, int] = {}
        for one, others in before.items():
            after[one] = after.get(one, 0) | others | (others << load & within)
            if one + load <= first:
                after[one + load] = after.get(one + load, 0) | others
        steps.append(after)
    for one, others in sorted(steps[-1].items(), reverse=True):
        least = max(0, total - one - third)
        found = others >> least
        if found:
            other = least + (found & -found).bit_length() - 1
            return _traced(loads, numbers, steps, one=one, other=other)
    return None


def _traced(
    loads: Loads, numbers: list[int], steps: list[dict[int, int]], *, one: int, other: int
) -> Shares:
    shares: Shares = [[], [], []]
    for place in range(len(numbers) - 1, -1, -1):
        load, before = loads[numbers[place]], steps[place]
        if before.get(one, 0) >> other & 1:
            shares[2].append(numbers[place])
        elif other >= load and before.get(one, 0) >> (other - load) & 1:
            shares[1].append(numbers[place])
            other -= load
        else:
            shares[0].append(numbers[place])
            one -= load
    return shares
