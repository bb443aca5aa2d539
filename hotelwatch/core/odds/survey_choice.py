"""Which rooms a survey looks at: those that tell most for each minute, until it is enough."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hotelwatch.core.odds.counting import Floats, all_rooms_missed_by_weight, last_infested
from hotelwatch.core.odds.survey_answers import Candidate, SurveyChoice, reaches


def choose_rooms(hotel: Sequence[Candidate], *, infested: int, confidence: float) -> SurveyChoice:
    """The rooms to look at so that one of ``infested`` rooms is found with the confidence.

    ``hotel`` holds every room once, also those that cannot be entered: they may be infested
    too. Rooms come in the order of -ln(1 - EPI s) a minute, EPI the share infested by their
    weight (Martin, Cameron, Greiner 2007), until the exact chance suffices: a set of infested
    rooms is as likely as the product of its rooms' weights, which with equal weights is the
    hypergeometric rule of ``least_rooms``.

    With equal minutes no choice of fewer rooms suffices if one room is asked for, or weights
    or chances are equal, or the riskier rooms are those seen better; otherwise it is near.
    Weights are above 0.
    """
    if not 1 <= infested <= len(hotel):
        raise ValueError("At least one room is infested, and no more than there are.")
    ordered = _in_order(hotel, infested)
    open_rooms = [room for room in ordered if _tells(room)]
    closed = [room for room in ordered if not _tells(room)]
    worst_first = [*closed, *reversed(open_rooms)]
    last = last_infested([room.weight for room in worst_first], infested)
    count = _least_count(open_rooms, last, confidence)
    chosen = open_rooms[:count]
    finds = _finds(chosen, last)
    return SurveyChoice(
        rooms=tuple(room.room for room in chosen),
        minutes=math.fsum(room.minutes for room in chosen),
        finds=finds,
        infested=infested,
        confidence=confidence,
        is_reached=reaches(finds, confidence),
    )


def weighted_finds(hotel: Sequence[Candidate], *, infested: int) -> float:
    """What a look at every room that can be entered finds, by the rooms' weights; exact."""
    closed = [room for room in hotel if not _tells(room)]
    looked = [room for room in hotel if _tells(room)]
    last = last_infested([room.weight for room in [*closed, *looked]], infested)
    return _finds(list(reversed(looked)), last)


def _tells(room: Candidate) -> bool:
    return room.can_be_entered and room.seen > 0.0


def _in_order(hotel: Sequence[Candidate], infested: int) -> list[Candidate]:
    mean = math.fsum(room.weight for room in hotel) / len(hotel)
    prevalence = infested / len(hotel)

    def a_minute(room: Candidate) -> float:
        found = min(1.0, prevalence * room.weight / mean) * room.seen
        told = -math.log1p(-found) if found < 1.0 else math.inf
        return told / room.minutes if room.minutes > 0.0 else math.inf

    # Where a weight makes a room infested for certain, more weight tells no more: then by it.
    return sorted(
        hotel, key=lambda room: (-a_minute(room), -room.weight * room.seen, -room.seen, room.room)
    )


def _least_count(open_rooms: Sequence[Candidate], last: Floats, confidence: float) -> int:
    short, enough = 0, len(open_rooms)
    while enough - short > 1:
        middle = (short + enough) // 2
        reached = reaches(_finds(open_rooms[:middle], last), confidence)
        short, enough = (short, middle) if reached else (middle, enough)
    return enough


def _finds(best_first: Sequence[Candidate], last: Floats) -> float:
    missing = [1.0 - room.seen for room in reversed(best_first)]
    return 1.0 - all_rooms_missed_by_weight(missing, last)
