"""Surveys in words: what one shows, what it would take, and what it can never show.

A survey is said to find, never to prove; chances are rounded down and none is told as sure.
Each statement comes with what it is silent about and what it rests on. The three settings
stand side by side: a range, and the cautious one decides what is called reached.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping

from hotelwatch.core.odds.survey_answers import ROUNDING, SurveyChoice, SurveyShown, SurveySize
from hotelwatch.core.odds_figures import Stance
from hotelwatch.wording.dates import minutes_text
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
        "If one or more of the {rooms} rooms had at least {insects} bed bugs, this survey would"
        " have found at least one of them {times}.",
        "If {infested} or more of the {rooms} rooms had at least {insects} bed bugs, this survey"
        " would have found at least one of them {times}.",
        central.infested,
    ).format(
        infested=central.infested,
        rooms=central.rooms,
        insects=central.insects,
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
        yield from _short_lines(shown[Stance.CENTRAL])
        return
    yield _("With cautious settings what was asked for, {asked}, is not reached.").format(
        asked=asked
    )
    yield from _short_lines(shown[short[0]])


def _short_lines(one: SurveyShown) -> Iterator[str]:
    if one.least_infested is None:
        yield _("Too little was looked at to say so of any number of infested rooms.")
    else:
        yield _(
            "As done, the survey reaches {asked} for {infested} infested rooms or more."
        ).format(asked=times_in_100(one.confidence), infested=one.least_infested)
    if not one.is_reachable:
        yield cannot_sentence(one.infested, one.confidence)
        yield rounds_sentence(one.rounds)


def rests_on_sentence(
    shown: Mapping[Stance, SurveyShown], *, is_measured_here: bool = False
) -> str:
    """What the statement takes for granted, and whether the hotel measured it."""
    central = shown[Stance.CENTRAL]
    lowest = min(one.lowest_seen for one in shown.values())
    highest = max(one.highest_seen for one in shown.values())
    if is_measured_here:
        said = _(
            "It rests on: {looked} of {rooms} rooms looked at; a look that sees {insects} bed"
            " bugs {times} (measured here); each look missing by itself, and infested rooms no"
            " likelier among those not looked at (both assumed)."
        )
    else:
        said = _(
            "It rests on: {looked} of {rooms} rooms looked at; a look that sees {insects} bed"
            " bugs {times} (assumed); each look missing by itself, and infested rooms no"
            " likelier among those not looked at (both assumed)."
        )
    return said.format(
        looked=central.looked_at,
        rooms=central.rooms,
        insects=central.insects,
        times=_between(lowest, highest),
    )


# --- what a survey takes ------------------------------------------------------------------


def size_lines(sizes: Mapping[Stance, SurveySize], *, insects: int) -> Iterator[str]:
    """How many rooms to look at, or that no number of rooms will do in one round."""
    cautious, central, optimistic = (sizes[stance] for stance in Stance)
    if central.looks is None:
        yield from _cannot_lines(central)
        if optimistic.looks is not None:
            yield ngettext(
                "With optimistic settings {looks} room drawn at random would be enough.",
                "With optimistic settings {looks} rooms drawn at random would be enough.",
                optimistic.looks,
            ).format(looks=optimistic.looks)
        return
    looks = [size.looks for size in (cautious, central, optimistic) if size.looks is not None]
    yield ngettext(
        "To find at least one {asked}, if one or more of the {rooms} rooms had at least"
        " {insects} bed bugs: look at {looks}, drawn at random.",
        "To find at least one {asked}, if {infested} or more of the {rooms} rooms had at"
        " least {insects} bed bugs: look at {looks}, drawn at random.",
        central.infested,
    ).format(
        asked=times_in_100(central.confidence),
        infested=central.infested,
        rooms=central.rooms,
        insects=insects,
        looks=_looks_text(central.looks, looks),
    )
    if cautious.looks is None:
        yield _("With cautious settings no number of rooms is enough.")
        yield from _cannot_lines(cautious)


def _looks_text(central: int, looks: Collection[int]) -> str:
    said = ngettext("{looks} room", "{looks} rooms", central).format(looks=central)
    if min(looks) == max(looks):
        return said
    return _("{looks} ({fewest} to {most}, depending on the settings)").format(
        looks=said, fewest=min(looks), most=max(looks)
    )


def _cannot_lines(size: SurveySize) -> Iterator[str]:
    yield cannot_sentence(size.infested, size.confidence)
    yield _("Looking at every room once finds at least one {times}.").format(
        times=times_in_100(size.finds)
    )
    yield rounds_sentence(size.rounds)


def choice_sentence(choice: SurveyChoice) -> str:
    """How many rooms were chosen, how long they take, and what they reach."""
    if not choice.rooms:
        return _("No room can be entered: nothing can be looked at.")
    told = {
        "minutes": minutes_text(math.ceil(choice.minutes)),
        "times": times_in_100(choice.finds),
        "asked": times_in_100(choice.confidence),
    }
    count = len(choice.rooms)
    if choice.is_reached:
        said = ngettext(
            "{count} room, {minutes}, finds at least one {times}.",
            "{count} rooms, {minutes}, find at least one {times}.",
            count,
        )
    else:
        said = ngettext(
            "The only room that can be entered, {minutes}, finds at least one {times}; what was"
            " asked for, {asked}, is not reached.",
            "All {count} rooms that can be entered, {minutes}, find at least one {times}; what"
            " was asked for, {asked}, is not reached.",
            count,
        )
    return said.format(count=count, **told)


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
        times=times_in_100(central), low=_count(min(chances)), high=_count(max(chances))
    )


def _between(low: float, high: float) -> str:
    if _floor(low) == _floor(high):
        return times_in_100(low)
    return _("{low} to {high} times in 100").format(low=_count(low), high=_count(high))


def _floor(chance: float) -> int:
    return min(NEARLY_ALL, math.floor(IN_ALL * chance + ROUNDING))


def _percent(confidence: float) -> str:
    tenths = min(TENTHS_IN_ALL - 1, math.floor(TENTHS_IN_ALL * confidence + ROUNDING))
    return f"{IN_ALL * tenths / TENTHS_IN_ALL:.3g}"


def _count(chance: float) -> str:
    count = _floor(chance)
    return str(count) if count >= 1 else _("fewer than 1")
