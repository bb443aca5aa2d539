"""What repeated looks at the same rooms say: how many rooms had something, and how well one looks.

Source: MacKenzie et al. 2002, Ecology 83:2248-2255 (abstract read); where numbers decide how
easily a room is found out, Royle and Nichols 2003, Ecology 84:777-790 (abstract read).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import comb, exp, inf, log, log1p, sqrt

from hotelwatch.core.odds.learning.searching import highest, root
from hotelwatch.core.problems import Refusal

STEP = 1e-4
"""Step of the differences from which the errors come."""
GRID = 200
"""Chances tried before the best one is closed in on."""
MOST_INSECTS = 60.0
"""A mean number beyond this can't be told from an even share of finds."""
FEWEST_INSECTS = 1e-3
TINY = 1e-300


@dataclass(frozen=True, slots=True)
class Repeated:
    """One room looked at several times within days: how often something was found."""

    found: int
    looks: int


@dataclass(frozen=True, slots=True)
class Occupancy:
    """Share of the rooms that had something, and the chance that one look finds it."""

    infested: float
    noticed: float
    log_likelihood: float
    infested_error: float | None
    """Standard error; None where the estimate lies on its border."""
    noticed_error: float | None

    @property
    def aic(self) -> float:
        """Akaike's criterion, to hold it against another form."""
        return 4.0 - 2.0 * self.log_likelihood

    def infested_though_missed(self, looks: int) -> float:
        """The chance that a room had something although so many looks found nothing."""
        missed = self.infested * (1.0 - self.noticed) ** looks
        return missed / (missed + 1.0 - self.infested)


def occupancy(rooms: Sequence[Repeated]) -> Occupancy | None:
    """The most likely shares; None where nothing was found, which says nothing of the looks.

    Refusal("repeat_looks_needed") where no room was looked at twice: how many there are and
    how well one looks can't be told apart then.
    """
    told = _counted(rooms)
    if not any(room.found for room in told):
        return None
    looks = {room.looks for room in told}
    infested, noticed = _equal(told) if len(looks) == 1 else _unequal(told)
    errors = _errors(told, infested, noticed)
    return Occupancy(infested, noticed, _log_likelihood(told, infested, noticed), *errors)


def _counted(rooms: Sequence[Repeated]) -> Counter[Repeated]:
    for room in rooms:
        if room.looks < 1 or not 0 <= room.found <= room.looks:
            raise ValueError(room)
    if not any(room.looks > 1 for room in rooms):
        raise Refusal("repeat_looks_needed")
    return Counter(rooms)


def _equal(told: Counter[Repeated]) -> tuple[float, float]:
    """Equal numbers of looks: p / (1 - (1-p)^K) = finds per look in rooms with a find."""
    looks = next(iter(told)).looks
    rooms = sum(told.values())
    with_find = sum(count for room, count in told.items() if room.found)
    found = sum(room.found * count for room, count in told.items())
    share = found / (with_find * looks)
    if share >= 1.0:
        return with_find / rooms, 1.0

    def excess(p: float) -> float:
        return share * (1.0 - (1.0 - p) ** looks) - p

    # Each room with a find found out just once: the root is zero, and every room had something.
    noticed = root(excess, STEP**2, 1.0) if found > with_find else 0.0
    seen = 1.0 - (1.0 - noticed) ** looks
    if with_find > rooms * seen:
        return 1.0, found / (rooms * looks)
    return with_find / (rooms * seen), noticed


def _unequal(told: Counter[Repeated]) -> tuple[float, float]:
    """Unequal numbers of looks: the likelihood's peak, its share of rooms worked out for each p."""

    def slope(p: float) -> float:
        infested = _best_infested(told, p)
        total = 0.0
        for room, count in told.items():
            missed = (1.0 - p) ** room.looks
            weight = 1.0 if room.found else infested * missed / (1.0 - infested * (1.0 - missed))
            total += count * (room.found / p - weight * (room.looks - room.found) / (1.0 - p))
        return total

    if all(room.found in (0, room.looks) for room in told):
        every = [*_peaks(slope, told), 1.0]
    else:
        every = _peaks(slope, told)
    best = max(every, key=lambda p: _log_likelihood(told, _best_infested(told, p), p))
    return _best_infested(told, best), best


def _peaks(slope: Callable[[float], float], told: Counter[Repeated]) -> list[float]:
    tried = [(number + 0.5) / GRID for number in range(GRID)]
    slopes = [slope(p) for p in tried]
    pairs = zip(pairwise(tried), pairwise(slopes), strict=True)
    found = [root(slope, low, high) for (low, high), (left, right) in pairs if left > 0 >= right]
    looks = sum(room.looks * count for room, count in told.items())
    return [*found, sum(room.found * count for room, count in told.items()) / looks]


def _best_infested(told: Counter[Repeated], p: float) -> float:
    seen = [(1.0 - (1.0 - p) ** room.looks, room.found, count) for room, count in told.items()]
    with_find = sum(count for _, found, count in seen if found)

    def slope(infested: float) -> float:
        missed = sum(c * s / max(1.0 - infested * s, TINY) for s, found, c in seen if not found)
        return with_find / infested - missed

    return 1.0 if slope(1.0) >= 0.0 else root(slope, STEP**2, 1.0)


def _log_likelihood(told: Counter[Repeated], infested: float, noticed: float) -> float:
    total = 0.0
    for room, count in told.items():
        chance = infested * noticed**room.found * (1.0 - noticed) ** (room.looks - room.found)
        if not room.found:
            chance += 1.0 - infested
        total += count * log(max(chance, TINY))
    return total


def _errors(
    told: Counter[Repeated], infested: float, noticed: float
) -> tuple[float | None, float | None]:
    """Standard errors from the curvature at the peak."""
    if not (STEP < infested < 1.0 - STEP and STEP < noticed < 1.0 - STEP):
        return None, None

    def at(a: float, b: float) -> float:
        return _log_likelihood(told, infested + a * STEP, noticed + b * STEP)

    here = at(0, 0)
    aa = (at(1, 0) - 2.0 * here + at(-1, 0)) / STEP**2
    bb = (at(0, 1) - 2.0 * here + at(0, -1)) / STEP**2
    ab = (at(1, 1) - at(1, -1) - at(-1, 1) + at(-1, -1)) / (4.0 * STEP**2)
    bent = aa * bb - ab * ab
    if bent <= 0.0 or aa >= 0.0:
        return None, None
    return sqrt(-bb / bent), sqrt(-aa / bent)


# --- where numbers decide ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ByNumbers:
    """Mean insects a room, and the chance that a look notices any one of them."""

    insects: float
    noticed_each: float
    log_likelihood: float

    @property
    def infested(self) -> float:
        """Share of the rooms that had at least one."""
        return 1.0 - exp(-self.insects)

    @property
    def aic(self) -> float:
        """Akaike's criterion, to hold it against another form."""
        return 4.0 - 2.0 * self.log_likelihood


def by_numbers(rooms: Sequence[Repeated]) -> ByNumbers | None:
    """The most likely numbers, if rooms with more insects are found out more easily.

    A look finds a room with n insects with chance 1 - (1-r)^n, and n is Poisson. None where
    nothing was found or finds are spread too evenly to tell numbers from looking well.
    Refusal("repeat_looks_needed") as for ``occupancy``.
    """
    told = _counted(rooms)
    if not any(room.found for room in told) or all(room.found == room.looks for room in told):
        return None

    def best_insects(noticed: float) -> float:
        return exp(highest(lambda x: numbers_likelihood(told, exp(x), noticed), *_INSECTS))

    def height(logit: float) -> float:
        noticed = 1.0 / (1.0 + exp(-logit))
        return numbers_likelihood(told, best_insects(noticed), noticed)

    noticed = 1.0 / (1.0 + exp(-highest(height, *_LOGITS)))
    insects = best_insects(noticed)
    if insects > MOST_INSECTS * (1.0 - STEP) or noticed > 1.0 - STEP:
        return None
    return ByNumbers(insects, noticed, numbers_likelihood(told, insects, noticed))


_INSECTS = (log(FEWEST_INSECTS), log(MOST_INSECTS))
_LOGITS = (-9.0, 10.0)


def numbers_likelihood(told: Mapping[Repeated, int], insects: float, noticed: float) -> float:
    """The log of the chance of these rooms' looks.

    Mean of (1-r)^(m n) over Poisson numbers is exp(-L (1 - (1-r)^m)), so the sum over numbers
    needs no end.
    """
    total = 0.0
    for room, count in told.items():
        missed = room.looks - room.found
        chance = sum(
            (-1) ** j
            * comb(room.found, j)
            * exp(-insects * (1.0 - exp((missed + j) * log1p(-noticed))))
            for j in range(room.found + 1)
        )
        if chance <= TINY:
            return -inf
        total += count * log(chance)
    return total
