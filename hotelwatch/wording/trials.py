"""Blind trials in words: where dummies are, what they showed, and never a certainty.

Every figure says whether it was measured here or is assumed, and on how much it rests.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from hotelwatch.core.odds.learning.estimates import Estimate, TwoInspectors
from hotelwatch.core.odds.learning.learned import Learned, LearnedFigure
from hotelwatch.core.odds.learning.occupancy import ByNumbers, Occupancy
from hotelwatch.core.odds.learning.trials import Trial, TrialState
from hotelwatch.core.odds_figures import OddsFigure
from hotelwatch.core.standing import Standing
from hotelwatch.core.trial_facts import DummyHidden
from hotelwatch.wording.dates import day_text, short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label, place_label

LOWEST = 0.01
HIGHEST = 0.99
"""No chance is said to be lower or higher than these: a few trials can't show it."""
FEW = 0.0001
"""A rate below this is not told more exactly."""

SAYS_NOTHING = {
    TrialState.NOBODY_LOOKED: m("{n} ended before anybody looked at the bed or room"),
    TrialState.NOT_LOOKED_AT: m("{n} lay where the check did not look"),
    TrialState.NOT_BLIND: m("{n} met a look by the one who had hidden it"),
    TrialState.LOST: m("{n} got lost"),
}

# --- cautions ---------------------------------------------------------------------------


def about_trials() -> str:
    """What a blind trial is, for whoever never did one."""
    return _(
        "In a blind trial a supervisor hides a harmless marked object, a dummy, where insects would"
        " hide. Whether the next check finds it shows how well your own checks see. Who looks does"
        " not know of it, and nobody is ranked."
    )


def no_insect() -> str:
    """What a dummy can't show."""
    return _(
        "A dummy is no insect: it does not move, leaves no spots, and says nothing of a young"
        " infestation elsewhere."
    )


def dummy_caution() -> str:
    """What whoever hides a dummy keeps to."""
    return _(
        "Hide a harmless marked object, never live or dead insects, in a vacant room shortly before"
        " a check. Tell nobody who looks, and collect it before the next guest arrives."
    )


def lifting_caution() -> str:
    """That hiding it means lifting as a check does."""
    return _(
        "Where it means lifting, the same caution holds as for a check: two people, gloves,"
        " and local rules come first."
    )


def guests_sentence(room: str, *, is_open: bool, arrives_on: date | None) -> str:
    """Whether a room can be entered on the day of hiding, and until when a dummy may lie there."""
    if not is_open:
        return _("Somebody stays in room {room} on that day: hide it elsewhere.").format(room=room)
    if arrives_on is None:
        return _("No coming guest of room {room} is known. Look again before you leave it.").format(
            room=room
        )
    return _("The next guest of room {room} arrives on {day}: collect it before.").format(
        room=room, day=day_text(arrives_on)
    )


# --- single trials -----------------------------------------------------------------------


def where_text(hidden: DummyHidden) -> str:
    """Bed or room, and the place."""
    return _("{where}, {place}").format(
        where=hidden.bed or hidden.room, place=place_label(hidden.place)
    )


def trial_sentence(trial: Trial) -> str:
    """A trial in a line, for the supervisor alone."""
    hidden = trial.hidden
    said = _("{dummy}: {where}, hidden {day} by {who}.").format(
        dummy=hidden.dummy, where=where_text(hidden), day=day_text(hidden.hidden_on), who=hidden.by
    )
    return f"{said} {so_far_text(trial)}"


def so_far_text(trial: Trial) -> str:
    """How a trial stands: whether anybody looked, or how it ended."""
    first, ended = trial.first_look, trial.ended
    if ended is None:
        if first is None:
            return _("Nobody has looked there yet; collect it in the end.")
        return _("{who} looked there on {day}: collect it and end the trial.").format(
            who=join(first.by), day=day_text(first.checked_on)
        )
    state = _("{state}; ended {day}.").format(
        state=label(trial.state), day=day_text(ended.ended_on)
    )
    return f"{state} {ended.noted}".rstrip()


def stands_text(trial: Trial) -> str:
    """The same in a word or two, for a column."""
    if trial.ended is None:
        return label(trial.state) if trial.first_look is None else _("Looked at: collect it")
    return _("{state}, {day}").format(
        state=label(trial.state), day=short_day_text(trial.ended.ended_on)
    )


def found_elsewise_sentence(trial: Trial) -> str:
    """Where a dummy is said to be found and no check looked at its place; else empty."""
    unseen = (TrialState.NOT_LOOKED_AT, TrialState.NOBODY_LOOKED)
    if trial.ended is None or not trial.ended.was_found or trial.state not in unseen:
        return ""
    return _(
        "{dummy} is said to be found, but no check that looked there is written down; so it does"
        " not count. If there was one, record it."
    ).format(dummy=trial.hidden.dummy)


# --- what they show ----------------------------------------------------------------------


def chance_text(chance: float) -> str:
    """A chance with two digits; never 0 and never 1."""
    if chance < LOWEST:
        return _("below {least}").format(least=f"{LOWEST:.2f}")
    if chance > HIGHEST:
        return _("above {most}").format(most=f"{HIGHEST:.2f}")
    return f"{chance:.2f}"


def span_text(low: float, high: float) -> str:
    """A range of chances."""
    return _("{low} to {high}").format(low=chance_text(low), high=chance_text(high))


def found_text(found: int, trials: int, low: float, high: float) -> str:
    """So many dummies found, and the range: "14 of 20 dummies found (0.52 to 0.84)"."""
    said = ngettext("{found} of {n} dummy found", "{found} of {n} dummies found", trials)
    counted = said.format(found=found, n=trials)
    return _("{counted} ({span})").format(counted=counted, span=span_text(low, high))


def place_sentence(place: str, seen: Estimate) -> str:
    """How well a deep look sees in one place."""
    return _("{place}: {found}").format(
        place=place_label(place), found=found_text(seen.found, seen.trials, seen.low, seen.high)
    )


def standing_text(figure: OddsFigure) -> str:
    """Whether a figure was measured here or is assumed, in a word or two."""
    if figure.standing is Standing.MEASURED:
        return _("measured here")
    if figure.standing is Standing.ASSUMPTION:
        return _("assumed")
    return label(figure.standing).lower()


def notice_sentence(learned: Learned, assumed: OddsFigure) -> str:
    """What is known of how well a deep look notices one insect, and what is reckoned with."""
    figure = learned.notice
    if figure is None:
        return _("A deep look notices one insect with chance {value} ({span}): assumed.").format(
            value=chance_text(assumed.value), span=span_text(assumed.cautious, assumed.optimistic)
        )
    found = found_text(figure.found, figure.behind, figure.cautious, figure.optimistic)
    if figure.is_enough and assumed.standing is not Standing.CHOSEN:
        return _("A deep look notices one insect: measured here: {found}.").format(found=found)
    if figure.is_enough:
        return _(
            "A deep look notices one insect with chance {value}: the hotel's own choice. Measured"
            " here: {found}."
        ).format(value=chance_text(assumed.value), found=found)
    return _(
        "A deep look notices one insect with chance {value} ({span}): assumed. So far {found};"
        " from {needed} on they count instead."
    ).format(
        value=chance_text(assumed.value),
        span=span_text(assumed.cautious, assumed.optimistic),
        found=found,
        needed=learned.needed,
    )


def needed_sentence(learned: Learned, assumed: OddsFigure) -> str:
    """How many blind trials are still needed, or in whose place the measured figure stands."""
    figure = learned.notice
    left = learned.needed - (figure.behind if figure is not None else 0)
    if left > 0:
        return ngettext(
            "{n} more trial that counts, and your own figure takes the place of the assumed one.",
            "{n} more trials that count, and your own figure takes the place of the assumed one.",
            left,
        ).format(n=left)
    if assumed.standing is Standing.CHOSEN:
        return _("The hotel's own choice counts over it.")
    return _("It stands in the place of the assumed {value} ({span}).").format(
        value=chance_text(assumed.value), span=span_text(assumed.cautious, assumed.optimistic)
    )


def finds_sentence(seen: Estimate | None, assumed: OddsFigure) -> str:
    """How well a deep look notices one insect, as the confirmed finds fit it."""
    if seen is None:
        return _("No find was confirmed yet: none tells which looks had missed it.")
    return ngettext(
        "The looks before and at {n} confirmed find fit a chance of {value} ({span}) that a deep"
        " look notices one insect; assumed before: {assumed}. Few finds change it little.",
        "The looks before and at {n} confirmed finds fit a chance of {value} ({span}) that a deep"
        " look notices one insect; assumed before: {assumed}. Few finds change it little.",
        seen.trials,
    ).format(
        n=seen.trials,
        value=chance_text(seen.value),
        span=span_text(seen.low, seen.high),
        assumed=chance_text(assumed.value),
    )


def introductions_sentence(figure: LearnedFigure | None, assumed: OddsFigure) -> str:
    """What is known of introductions, and what is reckoned with."""
    if figure is None or not figure.is_enough or assumed.standing is Standing.CHOSEN:
        said = _("Brought into a room a year: {value} ({low} to {high}): {standing}.").format(
            value=rate_text(assumed.value),
            low=rate_text(assumed.optimistic),
            high=rate_text(assumed.cautious),
            standing=standing_text(assumed),
        )
        return said if figure is None else f"{said} {_behind(figure)}"
    said = _("Brought into a room a year: {value} ({low} to {high}): measured here.").format(
        value=rate_text(figure.value),
        low=rate_text(figure.optimistic),
        high=rate_text(figure.cautious),
    )
    return f"{said} {_behind(figure)}"


def _behind(figure: LearnedFigure) -> str:
    cases = ngettext("{n} confirmed case", "{n} confirmed cases", figure.found)
    stays = ngettext("{n} stay", "{n} stays", figure.behind)
    return _("On record: {cases} in {stays}.").format(
        cases=cases.format(n=f"{figure.found:,}"), stays=stays.format(n=f"{figure.behind:,}")
    )


def rate_text(rate: float) -> str:
    """A yearly rate with two digits that count; never none at all."""
    if rate < FEW:
        return _("below {least}").format(least=f"{FEW:.4f}")
    return f"{rate:.2g}"


def learned_lines(learned: Learned, figures: tuple[OddsFigure, OddsFigure]) -> Iterator[str]:
    """All that blind trials and the record show, line by line; figures as they are reckoned with.

    ``figures`` are those assumed or chosen: noticing, introductions.
    """
    notice, rate = figures
    yield notice_sentence(learned, notice)
    for place, seen in learned.by_place.items():
        yield "  " + place_sentence(place, seen)
    yield from says_nothing_lines(learned)
    yield introductions_sentence(learned.introductions, rate)
    yield from people_lines(learned)
    if learned.pairs is not None:
        yield pairs_sentence(learned.pairs)
    yield no_insect()


def says_nothing_lines(learned: Learned) -> Iterator[str]:
    """Dummies that say nothing of how well one looks, counted apart."""
    for state, text in SAYS_NOTHING.items():
        if learned.states[state]:
            yield _("Not counted: {what}.").format(what=_(text).format(n=learned.states[state]))
    if learned.brief.trials:
        text = _("Counted apart: a brief look met {n} first and found {found}.")
        yield text.format(n=learned.brief.trials, found=learned.brief.found)


def people_lines(learned: Learned) -> Iterator[str]:
    """People's figures in alphabetical order, where enough trials allow it."""
    people = learned.people
    for own in people.own:
        found = found_text(own.notice.found, own.notice.trials, own.notice.low, own.notice.high)
        yield _("{name}: {found}, drawn towards the house's figure.").format(
            name=own.name, found=found
        )
    if people.too_few:
        yield _(
            "No figure of their own before {n} trials each: {names}. In alphabetical order; nobody"
            " is ranked."
        ).format(n=people.needed, names=join(people.too_few))


def pairs_sentence(pairs: TwoInspectors) -> str:
    """What two blind looks at the same rooms show."""
    said = _(
        "Two blind looks, rooms with a find: {first} by the first, {second} by the second,"
        " {both} by both; about {total} had something."
    ).format(first=pairs.first, second=pairs.second, both=pairs.both, total=round(pairs.total))
    if pairs.first_chance is None or pairs.second_chance is None:
        return said
    return _(
        "{said} The first found {first} of the second's, the second {second} of the first's; where"
        " some rooms are easier for both, that is too much."
    ).format(
        said=said,
        first=chance_text(pairs.first_chance),
        second=chance_text(pairs.second_chance),
    )


def repeats_sentence(fit: Occupancy, numbers: ByNumbers | None) -> str:
    """What repeated looks within days show of one look, where they can tell it."""
    if fit.infested_error is None or fit.noticed_error is None:
        return _(
            "Rooms looked at again within days: finds are too few to tell how much one look finds"
            " from how many of these rooms had something."
        )
    said = _(
        "Rooms looked at again within days: one look found about {noticed} of what was there, in"
        " about {infested} of these rooms."
    ).format(noticed=chance_text(fit.noticed), infested=chance_text(fit.infested))
    if numbers is None:
        return said
    return _("{said} If numbers decide, rather in {infested} of them.").format(
        said=said, infested=chance_text(numbers.infested)
    )
