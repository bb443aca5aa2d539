"""How likely a survey finds at least one infested room, if there are so many of them.

Exact for a hotel of any size with a different chance for each look; beside it the usual
approximations, risk groups, and checks that depend on each other. All chances are 0 to 1,
and all suppose that signs are never false: a sign is looked into until one knows
(``survey_signs`` is for where that cannot be).

Sources: Cameron, Baldock 1998, Prev Vet Med 34:1-17 (exact); MacDiarmid 1988, NZ Vet J
36:39-42 (approximation); Martin, Cameron, Greiner 2007, Prev Vet Med 79:71-97 (risk groups);
Gardner et al. 2000, Prev Vet Med 45:107-122 (dependent checks).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from hotelwatch.core.odds.counting import all_rooms_missed
from hotelwatch.core.odds.surveys.survey_answers import ROUNDING


def design_number(rooms: int, prevalence: float) -> int:
    """How many infested rooms a prevalence stands for: rounded down, but at least one.

    Fewer are harder to find, so rounding down is the cautious side; ISPM 31's tables do so.
    """
    return max(1, math.floor(rooms * prevalence + ROUNDING))


def seen_by_any(looks: Iterable[float]) -> float:
    """The chance that at least one of several looks at one room sees it, each by itself."""
    return 1.0 - math.prod(1.0 - seen for seen in looks)


def survey_finds(seen: Sequence[float], *, rooms: int, infested: int) -> float:
    """The chance to find at least one of ``infested`` rooms among ``rooms``; exact.

    ``seen`` holds one chance for each room looked at. Any rooms may be the infested ones.
    """
    if len(seen) > rooms or not 0 <= infested <= rooms:
        raise ValueError("A survey looks at, and a hotel has infested, no more rooms than it has.")
    missing = [1.0 - each for each in seen]
    return float(1.0 - all_rooms_missed(missing, rooms=rooms, most=infested)[infested])


def survey_finds_about(seen: Sequence[float], *, rooms: int, infested: float) -> float:
    """The same by MacDiarmid's approximation; never above the exact chance."""
    return -math.expm1(infested * _log_missed(math.fsum(seen) / rooms))


def survey_finds_in_many(seen: Sequence[float], prevalence: float) -> float:
    """The same where rooms are very many, and a share ``prevalence`` of them is infested."""
    return found_by_each([prevalence] * len(seen), seen)


def census_finds(seen: float, infested: int) -> float:
    """What looking at every room with this chance reaches: no survey does better in one round."""
    return -math.expm1(infested * _log_missed(seen))


def found_by_each(infested: Sequence[float], seen: Sequence[float]) -> float:
    """The chance to find at least one room, each infested with its own chance, by itself.

    1 - prod(1 - EPI s) of scenario trees. Looks at the same room must first be put together
    with ``seen_by_any``: as two rooms they would count for too much.
    """
    logs = (_log_missed(here * each) for here, each in zip(infested, seen, strict=True))
    return -math.expm1(math.fsum(logs))


def _log_missed(seen: float) -> float:
    return math.log1p(-seen) if seen < 1.0 else -math.inf


# --- risk groups --------------------------------------------------------------------------


def adjusted_risks(risks: Sequence[float], shares: Sequence[float]) -> list[float]:
    """How much likelier than the hotel's mean room each group is infested.

    ``risks`` are relative to any group; ``shares`` are the groups' shares of all rooms.
    """
    mean = math.fsum(risk * share for risk, share in zip(risks, shares, strict=True))
    return [risk / mean for risk in risks]


def effective_prevalences(
    prevalence: float, risks: Sequence[float], shares: Sequence[float]
) -> list[float]:
    """The share of infested rooms in each group, if the hotel's is ``prevalence``."""
    return [min(1.0, prevalence * risk) for risk in adjusted_risks(risks, shares)]


@dataclass(frozen=True, slots=True)
class GroupLooks:
    """Rooms of one risk group: how many there are, how many are looked at, how well."""

    rooms: int
    looks: int
    seen: float
    infested: float
    """The share of them that is infested."""


def survey_finds_by_group(groups: Iterable[GroupLooks]) -> float:
    """The chance to find at least one, by MacDiarmid's approximation within each group."""
    logs = (
        group.infested * group.rooms * _log_missed(group.looks * group.seen / group.rooms)
        for group in groups
    )
    return -math.expm1(math.fsum(logs))


# --- checks that depend on each other -----------------------------------------------------


def both_see(first: float, second: float, *, covariance: float = 0.0) -> float:
    """The chance that both of two checks see it; a covariance of 0: each by itself.

    The same holds of both staying silent where nothing is.
    """
    both = first * second + covariance
    if not max(0.0, first + second - 1.0) - ROUNDING <= both <= min(first, second) + ROUNDING:
        raise ValueError("Two such checks cannot depend on each other so strongly.")
    return both


def either_sees(first: float, second: float, *, covariance: float = 0.0) -> float:
    """The chance that at least one of two checks sees it; covariance takes from it."""
    return first + second - both_see(first, second, covariance=covariance)


def chain_finds(steps: Iterable[float]) -> float:
    """The chance that every step of a chain happens: noticed, told, written down, confirmed.

    For a whole hotel that relies on reports it is what one "look" at each room sees.
    """
    return math.prod(steps)
