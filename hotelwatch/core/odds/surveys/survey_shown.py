"""What a survey just done shows, if nothing was found in it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.odds.surveys.survey import census_finds, seen_by_any, survey_finds
from hotelwatch.core.odds.surveys.survey_answers import Looked, SurveyShown
from hotelwatch.core.odds.surveys.survey_size import least_infested_found


def seen_by_room(looked: Iterable[Looked]) -> Mapping[RoomNo, float]:
    """The chance that a survey's looks at each room see it, several looks put together.

    Each look misses by itself: whoever looks twice at the same places looked once.
    """
    looks: dict[RoomNo, list[float]] = {}
    for look in looked:
        looks.setdefault(look.room, []).append(look.seen)
    return {room: seen_by_any(seen) for room, seen in looks.items()}


def what_it_shows(
    looked: Iterable[Looked], *, rooms: int, infested: int, insects: int, confidence: float
) -> SurveyShown:
    """What a survey shows of a hotel of so many rooms, had ``infested`` of them ``insects``.

    It supposes that infested rooms are as likely among those looked at as among others.
    """
    seen = list(seen_by_room(looked).values())
    highest = max(seen, default=0.0)
    return SurveyShown(
        rooms=rooms,
        looked_at=len(seen),
        infested=infested,
        insects=insects,
        confidence=confidence,
        finds=survey_finds(seen, rooms=rooms, infested=infested),
        least_infested=least_infested_found(seen, rooms=rooms, confidence=confidence),
        census_finds=census_finds(highest, infested),
        lowest_seen=min(seen, default=0.0),
        highest_seen=highest,
    )
