"""Which rooms a survey looks at: those that tell most for each minute, until it is enough."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hotelwatch.core.odds.counting import Floats, all_rooms_missed_by_weight, last_infested
from hotelwatch.core.odds.surveys.survey_answers import ROUNDING, Candidate, SurveyChoice, reaches


def choose_rooms(
    hotel: Sequence[Candidate],
    *,
    infested: int,
    confidence: float,
    minutes_at_most: float = math.inf,
) -> SurveyChoice:
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
    _refuse_unless_some(hotel, infested)
    return rooms_until_enough(
        most_telling_first(hotel, infested=infested),
        infested=infested,
        confidence=confidence,
        minutes_at_most=minutes_at_most,
    )


def rooms_until_enough(
    in_order: Sequence[Candidate],
    *,
    infested: int,
    confidence: float,
    minutes_at_most: float = math.inf,
) -> SurveyChoice:
    """The same with rooms taken in the order given, as where they are drawn at random.

    A room that no longer fits into the minutes is passed over.
    """
    _refuse_unless_some(in_order, infested)
    enterable = [room for room in in_order if _tells(room)]
    in_time = _within(enterable, minutes_at_most)
    taken = {room.room for room in in_time}
    left = [room for room in in_order if room.room not in taken]
    last = last_infested([room.weight for room in [*left, *reversed(in_time)]], infested)
    chosen = in_time[: _least_count(in_time, last, confidence)]
    finds = _finds(chosen, last)
    is_reached = reaches(finds, confidence)
    return SurveyChoice(
        rooms=tuple(room.room for room in chosen),
        minutes=math.fsum(room.minutes for room in chosen),
        finds=finds,
        infested=infested,
        confidence=confidence,
        is_reached=is_reached,
        is_cut_short=not is_reached and len(in_time) < len(enterable),
    )


def most_telling_first(hotel: Sequence[Candidate], *, infested: int) -> list[Candidate]:
    """All rooms, first those of which a look tells most a minute."""
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


def weighted_finds(hotel: Sequence[Candidate], *, infested: int) -> float:
    """What a look at every room that can be entered finds, by the rooms' weights; exact."""
    closed = [room for room in hotel if not _tells(room)]
    looked = [room for room in hotel if _tells(room)]
    last = last_infested([room.weight for room in [*closed, *looked]], infested)
    return _finds(list(reversed(looked)), last)


def least_infested_by_weight(
    hotel: Sequence[Candidate], *, confidence: float, most: int
) -> int | None:
    """From how many infested rooms on a look at all that can be entered finds one of them.

    None: not even of ``most``, by the rooms' weights; exact.
    """
    closed = [room for room in hotel if not _tells(room)]
    looked = [room for room in hotel if _tells(room)]
    last = last_infested([room.weight for room in [*closed, *looked]], most)
    missing = [1.0 - room.seen for room in looked]

    def suffice(infested: int) -> bool:
        missed = all_rooms_missed_by_weight(missing, last[:, :infested])
        return reaches(1.0 - missed, confidence)

    if not suffice(most):
        return None
    short, enough = 0, most
    while enough - short > 1:
        middle = (short + enough) // 2
        short, enough = (short, middle) if suffice(middle) else (middle, enough)
    return enough


def _refuse_unless_some(hotel: Sequence[Candidate], infested: int) -> None:
    if not 1 <= infested <= len(hotel):
        raise ValueError("At least one room is infested, and no more than there are.")


def _within(rooms: Sequence[Candidate], minutes_at_most: float) -> list[Candidate]:
    taken: list[Candidate] = []
    left = minutes_at_most + ROUNDING
    for room in rooms:
        if room.minutes <= left:
            taken.append(room)
            left -= room.minutes
    return taken


def _tells(room: Candidate) -> bool:
    return room.can_be_entered and room.seen > 0.0


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
