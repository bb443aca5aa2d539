"""Surveys whose signs may be false: how many rooms with signs make a hotel infested.

Where every sign is looked into until one knows, ``survey`` is enough. Where that cannot be
(an old stain, a dog's alert), a few signs are seen in a hotel without any infestation, and
one asks whether there were more of them than that.

Source: Cameron, Baldock 1998, Prev Vet Med 34:1-17.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from hotelwatch.core.odds.counting import Floats, number_chances
from hotelwatch.core.odds.surveys.survey_answers import reaches


@dataclass(frozen=True, slots=True)
class SignLook:
    """A look whose sign may be false."""

    seen: float
    """Chance of a sign in an infested room."""
    silent: float
    """Chance of no sign in a room that is not infested."""


@dataclass(frozen=True, slots=True)
class SignSurvey:
    """A survey that counts signs."""

    looks: int
    most_signs: int
    """Up to so many rooms with signs are put down to false ones."""
    finds: float
    """Chance of more signs than that, if as many rooms are infested as was asked."""
    stays_silent: float
    """Chance of no more than that, if none is."""


def chance_of_signs(
    look: SignLook, *, rooms: int, looks: int, infested: int, at_least: int
) -> float:
    """The chance of signs in ``at_least`` of the rooms looked at, drawn at random; exact."""
    if at_least <= 0:
        return 1.0
    fewer = _fewer_signs(look, rooms=rooms, infested=infested, most=at_least - 1)
    for looked, chances in enumerate(fewer):
        if looked == looks:
            return float(1.0 - chances.sum())
    raise ValueError("A survey looks at no more rooms than the hotel has.")


def chance_of_signs_in_many(
    look: SignLook, *, looks: int, prevalence: float, at_least: int
) -> float:
    """The same where rooms are very many and a share of them is infested."""
    shown = prevalence * look.seen + (1.0 - prevalence) * (1.0 - look.silent)
    return float(1.0 - number_chances([shown] * looks, most=at_least - 1).sum())


def least_sign_survey(
    look: SignLook, *, rooms: int, infested: int, confidence: float, silence: float
) -> SignSurvey | None:
    """The least looks, and the most signs put down to false ones, that reach both; exact.

    ``confidence`` of more signs if ``infested`` rooms are, ``silence`` of no more if none
    is. None: not even a look at every room reaches both.
    """
    false = number_chances([1.0 - look.silent] * rooms).cumsum()
    most = int(np.argmax(false >= min(silence, false[-1])))
    with_any = _fewer_signs(look, rooms=rooms, infested=infested, most=most)
    with_none = _fewer_signs(look, rooms=rooms, infested=0, most=most)
    for looks, (any_there, none_there) in enumerate(zip(with_any, with_none, strict=True)):
        quiet = none_there.cumsum()
        cut = int(np.argmax(quiet >= silence))
        if quiet[cut] < silence:
            continue
        finds = float(1.0 - any_there[: cut + 1].sum())
        if reaches(finds, confidence):
            return SignSurvey(looks, cut, finds, float(quiet[cut]))
    return None


def _fewer_signs(look: SignLook, *, rooms: int, infested: int, most: int) -> Iterator[Floats]:
    """After 0, 1, 2 … looks: the chances of signs in 0, 1 … ``most`` rooms so far.

    The state is how many infested rooms were met and how many signs were seen; each look
    meets an infested room with the chance that is left, so that the size of the hotel counts.
    """
    met = np.arange(infested + 1)[:, None]
    state = np.zeros((infested + 1, most + 1))
    state[0, 0] = 1.0
    yield state.sum(axis=0)
    for looked in range(rooms):
        share = np.clip((infested - met) / (rooms - looked), 0.0, 1.0)
        meets, passes = state * share, state * (1.0 - share)
        state = passes * look.silent
        state[:, 1:] += passes[:, :-1] * (1.0 - look.silent)
        state[1:] += meets[:-1] * (1.0 - look.seen)
        state[1:, 1:] += meets[:-1, :-1] * look.seen
        yield state.sum(axis=0)
