"""Surveys in words: what one shows, what it would take, and what it can never show.

A survey is said to find, never to prove; chances are rounded down and none is told as sure.
Each statement comes with what it is silent about and what it rests on. The three settings
stand side by side: a range, and the cautious one decides what is called reached.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from hotelwatch.core.odds.surveys.survey_answers import ROUNDING, SurveyShown
from hotelwatch.core.odds_figures import Stance
from hotelwatch.wording.language import _, ngettext

IN_ALL = 100
NEARLY_ALL = 99
"""More than so many in a hundred are never told: rounded up it would read as certain."""
TENTHS_IN_ALL = 1000


# --- what a survey shows ------------------------------------------------------------------


def shown_lines(
    shown: Mapping[Stance, SurveyShown], *, is_measured_here: bool = False
) -> Iterator[str]:
    """What a survey shows in which nothing was found, what it does not, and what it rests on."""
    central = shown[Stance.CENTRAL]
    if not central.looked_at:
        yield _("No room was looked at: this survey shows nothing.")
        return
    yield found_sentence(shown)
    yield _("It says nothing about smaller infestations.")
    yield from _verdict_lines(shown)
    yield rests_on_sentence(shown, is_measured_here=is_measured_here)


def found_sentence(shown: Mapping[Stance, SurveyShown]) -> str:
    """How likely the survey would have found one of as many rooms as were asked about."""
    central = shown[Stance.CENTRAL]
    return ngettext(
        "If one or more of the {rooms} rooms had at least {insects}, this survey would have found"
        " at least one of them {times}.",
        "If {infested} or more of the {rooms} rooms had at least {insects}, this survey would"
        " have found at least one of them {times}.",
        central.infested,
    ).format(
        infested=central.infested,
        rooms=central.rooms,
        insects=insects_text(central.insects),
        times=times_text([shown[stance].finds for stance in Stance]),
    )


def _verdict_lines(shown: Mapping[Stance, SurveyShown]) -> Iterator[str]:
    asked = times_in_100(shown[Stance.CENTRAL].confidence)
    short = [stance for stance in Stance if not shown[stance].is_reached]
    if not short:
        yield _("What was asked for, {asked}, is reached with each of the settings.").format(
            asked=asked
        )
        return
    if Stance.CENTRAL in short:
        yield _("What was asked for, {asked}, is not reached.").format(asked=asked)
    else:
        yield _("With cautious settings what was asked for, {asked}, is not reached.").format(
            asked=asked
        )
    yield from _short_lines(shown[short[0]])


def _short_lines(one: SurveyShown) -> Iterator[str]:
    if one.least_infested is None:
        yield _("Too little was looked at to say so of any number of infested rooms.")
    else:
        yield ngettext(
            "As done, the survey reaches {asked} for {infested} infested room or more.",
            "As done, the survey reaches {asked} for {infested} infested rooms or more.",
            one.least_infested,
        ).format(asked=times_in_100(one.confidence), infested=one.least_infested)
    if not one.is_reachable:
        yield cannot_sentence(one.infested, one.confidence)


def rests_on_sentence(
    shown: Mapping[Stance, SurveyShown], *, is_measured_here: bool = False
) -> str:
    """What the statement takes for granted, and whether the hotel measured it."""
    central = shown[Stance.CENTRAL]
    lowest = min(one.lowest_seen for one in shown.values())
    highest = max(one.highest_seen for one in shown.values())
    if is_measured_here:
        said = _(
            "It rests on: {looked} of {rooms} rooms looked at; a look that sees {insects}"
            " {times} (measured here); each look missing by itself, and infested rooms no"
            " likelier among those not looked at (both assumed)."
        )
    else:
        said = _(
            "It rests on: {looked} of {rooms} rooms looked at; a look that sees {insects}"
            " {times} (assumed); each look missing by itself, and infested rooms no"
            " likelier among those not looked at (both assumed)."
        )
    return said.format(
        looked=central.looked_at,
        rooms=central.rooms,
        insects=insects_text(central.insects),
        times=between_text(lowest, highest),
    )


# --- what no survey shows ------------------------------------------------------------------


def cannot_sentence(infested: int, confidence: float) -> str:
    """That no number of rooms is enough in one round."""
    return ngettext(
        "One infested room cannot be ruled out to {percent} % in one round with this check, even"
        " if every room is looked at.",
        "{infested} infested rooms cannot be ruled out to {percent} % in one round with this"
        " check, even if every room is looked at.",
        infested,
    ).format(infested=infested, percent=_percent(confidence))


def rounds_sentence(rounds: int | None) -> str:
    """How many rounds through every room would be enough."""
    if rounds is None:
        return _("Nor do more rounds help: this check sees too little.")
    return ngettext(
        "{rounds} round through every room would be enough, if each look misses by itself"
        " (assumed).",
        "{rounds} rounds through every room would be enough, if each look misses by itself"
        " (assumed).",
        rounds,
    ).format(rounds=rounds)


def insects_text(insects: int) -> str:
    """So many bed bugs."""
    return ngettext("{n} bed bug", "{n} bed bugs", insects).format(n=insects)


# --- chances ------------------------------------------------------------------------------


def times_in_100(chance: float) -> str:
    """A chance as whole times in 100, rounded down: never a hundred, never nought."""
    count = _floor(chance)
    if count < 1:
        return _("less than once in 100")
    return ngettext("once in 100", "{count} times in 100", count).format(count=count)


def times_text(chances: list[float]) -> str:
    """The central chance, second of three, with the range that the settings leave."""
    if len({_floor(chance) for chance in chances}) == 1:
        return times_in_100(chances[0])
    central = chances[len(chances) // 2]
    return _("{times} (between {low} and {high}, depending on the settings)").format(
        times=times_in_100(central), low=count_text(min(chances)), high=count_text(max(chances))
    )


def between_text(low: float, high: float) -> str:
    """From one chance to another, as whole times in 100."""
    if _floor(low) == _floor(high):
        return times_in_100(low)
    return _("{low} to {high} times in 100").format(low=count_text(low), high=count_text(high))


def _floor(chance: float) -> int:
    return min(NEARLY_ALL, math.floor(IN_ALL * chance + ROUNDING))


def _percent(confidence: float) -> str:
    tenths = min(TENTHS_IN_ALL - 1, math.floor(TENTHS_IN_ALL * confidence + ROUNDING))
    return f"{IN_ALL * tenths / TENTHS_IN_ALL:.3g}"


def count_text(chance: float) -> str:
    """A chance as whole times in 100, the number alone."""
    count = _floor(chance)
    return str(count) if count >= 1 else _("fewer than 1")
