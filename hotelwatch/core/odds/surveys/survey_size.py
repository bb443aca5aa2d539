"""How many rooms a survey must look at, and when no number of rooms will do.

Looking at every room finds each infested one with the look's own chance and no more. Where
that is not enough, the answer is no number of rooms but rounds: the same rooms again.
Chances and confidence are 0 to 1.

Sources: as in ``survey``; Cannon, Roe 1982, Livestock disease surveys (from memory, the same
form in public code after Lane et al. 2018, NeoBiota).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hotelwatch.core.odds.counting import all_rooms_missed, hit_chances
from hotelwatch.core.odds.learning.estimates import all_missed
from hotelwatch.core.odds.surveys.survey import census_finds, found_by_each
from hotelwatch.core.odds.surveys.survey_answers import ROUNDING, SurveySize, reaches

ROUNDS_TRIED = 1000
"""A bound on the search only: nobody goes through a hotel so often in a few weeks."""


def least_rooms(
    rooms: int, *, infested: int, seen: float, confidence: float, likeness: float = 0.0
) -> SurveySize:
    """The least number of rooms, drawn at random, that finds one of ``infested`` rooms; exact.

    ``likeness`` of repeated looks at one room counts for the rounds only.
    """
    if not 1 <= infested <= rooms:
        raise ValueError("At least one room is infested, and no more than there are.")
    looks = _least_looks(rooms, infested=infested, seen=seen, confidence=confidence)
    if looks is None:
        finds = census_finds(seen, infested)
        rounds = rounds_needed(seen, infested, confidence=confidence, likeness=likeness)
    else:
        finds = _equal_looks_find(rooms, looks=looks, infested=infested, seen=seen)
        rounds = 1
    return SurveySize(
        rooms=rooms,
        infested=infested,
        seen=seen,
        confidence=confidence,
        looks=looks,
        finds=finds,
        rounds=rounds,
    )


def _least_looks(rooms: int, *, infested: int, seen: float, confidence: float) -> int | None:
    if not reaches(census_finds(seen, infested), confidence):
        return None
    short, enough = 0, rooms
    while enough - short > 1:
        middle = (short + enough) // 2
        finds = _equal_looks_find(rooms, looks=middle, infested=infested, seen=seen)
        short, enough = (short, middle) if reaches(finds, confidence) else (middle, enough)
    return enough


def _equal_looks_find(rooms: int, *, looks: int, infested: int, seen: float) -> float:
    hits = hit_chances(rooms, looks=looks, infested=infested)
    return float(1.0 - hits @ (1.0 - seen) ** np.arange(infested + 1))


def rounds_needed(
    seen: float, infested: int, *, confidence: float, likeness: float = 0.0
) -> int | None:
    """How many rounds through every room find one of ``infested``; None if far too many.

    Each round misses by itself unless ``likeness`` says how much looks at a room are alike.
    """

    def suffice(rounds: int) -> bool:
        missed = all_missed(seen, likeness, rounds)
        return reaches(1.0 - missed**infested, confidence)

    if not suffice(ROUNDS_TRIED):
        return None
    short, enough = 0, ROUNDS_TRIED
    while enough - short > 1:
        middle = (short + enough) // 2
        short, enough = (short, middle) if suffice(middle) else (middle, enough)
    return enough


# --- approximations -----------------------------------------------------------------------


def least_rooms_about(rooms: int, *, infested: int, seen: float, confidence: float) -> int | None:
    """The least number by MacDiarmid's approximation; never below the exact; None: too many."""
    if seen <= 0.0:
        return None
    needed = _up(rooms / seen * (1.0 - (1.0 - confidence) ** (1.0 / infested)))
    return needed if needed <= rooms else None


def least_rooms_of_many(prevalence: float, *, seen: float, confidence: float) -> int | None:
    """The least number where rooms are very many and a share of them is infested."""
    if prevalence * seen <= 0.0:
        return None
    if prevalence * seen >= 1.0:
        return 1
    return _up(math.log1p(-confidence) / math.log1p(-prevalence * seen))


def least_rooms_if_all_seen(rooms: int, *, infested: int, confidence: float) -> int:
    """The least number by Cannon and Roe's formula: looks that never miss."""
    return _up((1.0 - (1.0 - confidence) ** (1.0 / infested)) * (rooms - (infested - 1) / 2))


def least_rooms_by_group(
    infested: Sequence[float], effort: Sequence[float], *, seen: float, confidence: float
) -> tuple[int, ...] | None:
    """How many rooms of each risk group, if efforts go to groups in given shares.

    ``infested`` is each group's share of infested rooms; ``effort`` sums to 1. None: no
    number does.
    """
    mean = math.fsum(here * share for here, share in zip(infested, effort, strict=True))
    total = least_rooms_of_many(mean, seen=seen, confidence=confidence)
    if total is None:
        return None
    split = _split(total, effort)
    while not reaches(_groups_find(infested, split, seen), confidence):
        total += 1
        split = _split(total, effort)
    return split


def _groups_find(infested: Sequence[float], looks: Sequence[int], seen: float) -> float:
    each = [here for here, count in zip(infested, looks, strict=True) for _ in range(count)]
    return found_by_each(each, [seen] * len(each))


def _split(total: int, effort: Sequence[float]) -> tuple[int, ...]:
    wanted = [total * share for share in effort]
    given = [math.floor(each + ROUNDING) for each in wanted]
    by_rest = sorted(range(len(given)), key=lambda group: given[group] - wanted[group])
    for group in by_rest[: total - sum(given)]:
        given[group] += 1
    return tuple(given)


def _up(number: float) -> int:
    return max(1, math.ceil(number - ROUNDING))


# --- what a survey leaves out -------------------------------------------------------------


def prevalence_left_out(looks: int, *, seen: float, confidence: float) -> float:
    """The least share of infested rooms that so many looks would have met, of very many rooms.

    Above 1 where even a hotel infested throughout might have been missed.
    """
    if looks * seen <= 0.0:
        return math.inf
    return -math.expm1(math.log1p(-confidence) / looks) / seen


def least_infested_found(seen: Sequence[float], *, rooms: int, confidence: float) -> int | None:
    """From how many infested rooms on a survey finds one of them; None: not even all; exact."""
    mean = math.fsum(seen) / rooms
    if mean <= 0.0 or confidence >= 1.0:
        return None
    most = rooms
    if mean < 1.0:  # MacDiarmid's number is never below the exact one: no need to look further.
        most = _up(min(rooms, math.log1p(-confidence) / math.log1p(-mean)))
    missed = all_rooms_missed([1.0 - each for each in seen], rooms=rooms, most=most)
    found = np.flatnonzero(1.0 - missed >= confidence - ROUNDING)
    return int(found[0]) if len(found) else None
