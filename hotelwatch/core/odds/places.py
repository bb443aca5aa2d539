"""Which part of each place a recorded look showed, and where insects sit by how a bed is built."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence

from hotelwatch.core.beds import BedKind
from hotelwatch.core.odds_figures import PLACES, OddsRules

Parts = tuple[float, ...]
"""One part, 0 to 1, for each of PLACES."""
SCALED = frozenset({"mattress_top", "mattress_under", "base_outside"})
"""Places that all parts of a bed together show whole."""
NOTHING: Parts = (0.0,) * len(PLACES)
HALF = 0.5


def shown(rules: OddsRules, listed: Iterable[str], seen: Collection[str]) -> Parts:
    """Which part of each place was looked at, of a bed or room with these listed parts."""
    whole = dict.fromkeys(PLACES, 0.0)
    got = dict.fromkeys(PLACES, 0.0)
    for code in listed:
        for place, part in rules.shows.get(code, {}).items():
            whole[place] += part
            if code in seen:
                got[place] += part
    return tuple(
        got[place] / whole[place] if place in SCALED and whole[place] else min(got[place], 1.0)
        for place in PLACES
    )


def shares_of_bed(rules: OddsRules, kind: BedKind, *, encased: bool) -> Parts:
    """Where insects mainly sit around one bed: the usual shares, moved where a place is missing.

    Assumption: of a hollow base that is encased, half moves to headboard and frame, half
    elsewhere; a base without a hollow has it on its outside; so does a bed without headboard.
    """
    share = dict(zip(PLACES, rules.shares, strict=True))
    listed = {place.code for place in kind.places_of(encased=encased)}
    shown_there = {place for code in listed for place in rules.shows.get(code, {})}
    if "base_inside" not in shown_there:
        inside, share["base_inside"] = share["base_inside"], 0.0
        if any("base_inside" in rules.shows.get(place.code, {}) for place in kind.places):
            share["headboard_frame"] += inside * HALF
            share["elsewhere"] += inside * HALF
        else:
            share["base_outside"] += inside
    if "headboard_frame" not in shown_there:
        share["base_outside"] += share["headboard_frame"]
        share["headboard_frame"] = 0.0
    return tuple(share[place] for place in PLACES)


def mean_parts(of_each: Sequence[Parts]) -> Parts:
    """The mean over several beds; nothing for none."""
    if not of_each:
        return NOTHING
    return tuple(sum(parts) / len(of_each) for parts in zip(*of_each, strict=True))


def seen_of_beds(beds: Sequence[tuple[Parts, Parts]]) -> Parts:
    """What was seen of each place over several beds: each bed's shares, and what was seen of it.

    A place counts by how likely each bed is to have insects there, so that one bed looked at
    says no more of a room with another kind of bed than it should.
    """
    seen: list[float] = []
    for place in range(len(PLACES)):
        whole = sum(shares[place] for shares, _seen in beds)
        weighed = sum(shares[place] * parts[place] for shares, parts in beds)
        alike = sum(parts[place] for _shares, parts in beds) / max(len(beds), 1)
        seen.append(weighed / whole if whole else alike)
    return tuple(seen)


def together(one: Parts, other: Parts) -> Parts:
    """What two looks of one visit showed together, at parts that do not overlap."""
    return tuple(min(1.0, a + b) for a, b in zip(one, other, strict=True))
