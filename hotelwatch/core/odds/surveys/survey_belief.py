"""From what a survey finds to what one may believe, from one period to the next.

A belief is the chance, 0 to 1, that no room is infested as far as the survey speaks of it
(at least so many rooms with at least so many insects). It needs a belief held before: the
survey alone says how good the survey was, never how likely nothing is there.

Source: Martin, Cameron, Greiner 2007, Prev Vet Med 79:71-97.
"""

from __future__ import annotations

from collections.abc import Sequence


def belief_after(before: float, finds: float) -> float:
    """The belief after a survey with chance ``finds`` in which nothing was found."""
    silent = before + (1.0 - finds) * (1.0 - before)
    return before / silent if silent > 0.0 else 0.0


def belief_later(belief: float, brought_in: float) -> float:
    """The belief a period later, in which something came in with chance ``brought_in``."""
    return belief * (1.0 - brought_in)


def beliefs_over(start: float, finds: Sequence[float], brought_in: Sequence[float]) -> list[float]:
    """The belief after each period's survey; ``brought_in`` counts before that survey."""
    found, belief = [], start
    for chance, new in zip(finds, brought_in, strict=True):
        belief = belief_after(belief_later(belief, new), chance)
        found.append(belief)
    return found


def lasting_belief(finds: float, brought_in: float) -> tuple[float, float]:
    """Where beliefs settle if every period is alike: before each survey, and after it.

    Both 0 where more comes in than the surveys find.
    """
    if brought_in >= 1.0 or finds <= brought_in:
        return 0.0, 0.0
    before = 1.0 - brought_in / finds
    return before, before / (1.0 - brought_in)


def finds_needed(before: float, wanted: float) -> float:
    """What a survey must find, 0 to 1, to bring a belief to the wanted one; 0 if it is there."""
    if before >= wanted:
        return 0.0
    return (1.0 - before / wanted) / (1.0 - before)
