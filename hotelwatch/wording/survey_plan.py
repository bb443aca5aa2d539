"""A survey of the house in words: which rooms to look at, and what the looks of some days show.

As in ``survey``: it is said to find, never to prove; no chance is told as sure; each statement
comes with what it is silent about and what it rests on.
"""

from __future__ import annotations

from collections.abc import Iterator

from hotelwatch.core.odds.surveys.survey_answers import reaches
from hotelwatch.core.odds.surveys.survey_wish import (
    SignMet,
    SpanShown,
    SurveyLook,
    SurveyOrder,
    SurveyPlan,
)
from hotelwatch.core.odds_figures import ByStance, OddsRules, Stance
from hotelwatch.core.standing import Standing
from hotelwatch.wording.dates import day_text, minutes_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.odds import known_text
from hotelwatch.wording.survey import (
    between_text,
    cannot_sentence,
    count_text,
    insects_text,
    rounds_sentence,
    shown_lines,
    times_in_100,
    times_text,
)

IN_ALL = 100
SMALLEST = 1


def look_text(look: SurveyLook) -> str:
    """How the rooms are looked at."""
    return {
        SurveyLook.SHEET: _("as the sheet asks"),
        SurveyLook.COVER: _("and dust covers opened"),
        SurveyLook.HEADBOARD: _("and headboards off"),
        SurveyLook.FULL: _("and both of these"),
    }[look]


def order_text(order: SurveyOrder) -> str:
    """Which rooms come first."""
    return {
        SurveyOrder.BY_ODDS: _("likeliest first"),
        SurveyOrder.AT_RANDOM: _("drawn by lot"),
    }[order]


def preset_text(rules: OddsRules) -> str:
    """From where the numbers come that stand in the form at first."""
    f = rules.figures
    return _(
        "At first: {share:g} % of the rooms ({share_known}), {insects} ({insects_known}), found"
        " {times} ({times_known}). What you ask is yours to choose."
    ).format(
        share=IN_ALL * f.survey_prevalence.value,
        share_known=known_text(f.survey_prevalence.standing),
        insects=insects_text(int(f.survey_insects.value)),
        insects_known=known_text(f.survey_insects.standing),
        times=times_in_100(f.survey_confidence.value),
        times_known=known_text(f.survey_confidence.standing),
    )


# --- planning one -------------------------------------------------------------------------


def plan_headline(plan: SurveyPlan) -> str:
    """How many rooms and minutes it takes, or why no number of rooms will do."""
    if plan.is_reached:
        return _looks_text(plan)
    if not plan.can_be_reached:
        return cannot_sentence(plan.infested, plan.wish.question.confidence)
    if plan.is_cut_short and plan.wish.minutes_at_most is not None:
        return _("In {minutes} not enough rooms can be looked at.").format(
            minutes=minutes_text(plan.wish.minutes_at_most)
        )
    if not plan.chosen:
        return _("No room can be entered on these days: nothing can be looked at.")
    return _("The rooms that can be entered on these days are not enough.")


def _looks_text(plan: SurveyPlan) -> str:
    return ngettext(
        "Look at {count} room, {minutes} of a team.",
        "Look at {count} rooms, {minutes} of a team in all.",
        len(plan.chosen),
    ).format(count=len(plan.chosen), minutes=minutes_text(plan.minutes))


def plan_lines(plan: SurveyPlan) -> Iterator[str]:
    """What these looks would find, and whether that is what was asked; a line for each."""
    if plan.chosen:
        said = [] if plan.is_reached else [_all_looks_text(plan)]
        said.append(_finds_text(plan))
        if plan.wish.order is SurveyOrder.BY_ODDS:
            said.append(_alike_text(plan))
        if plan.wish.question.insects > SMALLEST:
            said.append(_("They would say nothing about smaller infestations."))
        yield " ".join(said)
    yield " ".join(_verdict_sentences(plan))


def _all_looks_text(plan: SurveyPlan) -> str:
    return ngettext(
        "What can be done: {count} room, {minutes} of a team.",
        "What can be done: {count} rooms, {minutes} of a team in all.",
        len(plan.chosen),
    ).format(count=len(plan.chosen), minutes=minutes_text(plan.minutes))


def _finds_text(plan: SurveyPlan) -> str:
    return ngettext(
        "If one or more of the {rooms} rooms had at least {insects}, these looks would find at"
        " least one of them {times}.",
        "If {infested} or more of the {rooms} rooms had at least {insects}, these looks would"
        " find at least one of them {times}.",
        plan.infested,
    ).format(
        infested=plan.infested,
        rooms=plan.rooms,
        insects=insects_text(plan.wish.question.insects),
        times=_times(plan.finds),
    )


def _alike_text(plan: SurveyPlan) -> str:
    return _("Were every room as likely infested as any other: {times}.").format(
        times=_times(plan.alike)
    )


def _verdict_sentences(plan: SurveyPlan) -> Iterator[str]:
    asked = times_in_100(plan.wish.question.confidence)
    if plan.is_reached:
        yield _("What was asked for, {asked}, is reached with each of the settings.").format(
            asked=asked
        )
        return
    yield _short_text(plan).format(asked=asked)
    if plan.least_infested is not None and plan.chosen:
        yield ngettext(
            "These looks reach {asked} if {infested} room or more is infested.",
            "These looks reach {asked} if {infested} rooms or more are infested.",
            plan.least_infested,
        ).format(asked=asked, infested=plan.least_infested)
    if not plan.can_be_reached:
        at_once = times_in_100(plan.census[Stance.CENTRAL])
        if at_once != times_in_100(plan.finds[Stance.CENTRAL]):
            yield _(
                "Looking once at every room of the hotel would find at least one {times}."
            ).format(times=_times(plan.census))
        yield rounds_sentence(plan.rounds)
    elif plan.is_cut_short:
        yield _("More minutes, or asking for more infested rooms, would do.")
    else:
        yield _("More days let more rooms be entered.")


def _short_text(plan: SurveyPlan) -> str:
    central = plan.chosen and reaches(plan.finds[Stance.CENTRAL], plan.wish.question.confidence)
    if central:
        return _("With the less favourable settings what was asked for, {asked}, is not reached.")
    return _("What was asked for, {asked}, is not reached.")


def left_out_lines(plan: SurveyPlan) -> Iterator[str]:
    """Rooms at which nobody can look, or which are not asked about."""
    if plan.closed:
        yield ngettext(
            "{n} room cannot be entered on these days; it counts as one that may be infested.",
            "{n} rooms cannot be entered on these days; they count as ones that may be infested.",
            plan.closed,
        ).format(n=plan.closed)
    if plan.unseen:
        yield ngettext(
            "{n} room has no bed on the roster: a look there counts for nothing.",
            "{n} rooms have no bed on the roster: a look there counts for nothing.",
            plan.unseen,
        ).format(n=plan.unseen)
    yield from _found_lines(plan.found)


def _found_lines(found: int) -> Iterator[str]:
    if found:
        yield ngettext(
            "{n} room with a confirmed find is not counted here.",
            "{n} rooms with confirmed finds are not counted here.",
            found,
        ).format(n=found)


def plan_rests(plan: SurveyPlan, rules: OddsRules) -> Iterator[str]:
    """What the statement takes for granted, how well that is known, and what to mind."""
    look = plan.wish.look
    if plan.chosen:
        said = {
            SurveyOrder.BY_ODDS: _(
                "It rests on: a look that sees {insects} {times} ({known}); where in a room they"
                " mainly sit ({places}); each look missing by itself (assumed); infested rooms"
                " being as likely as today's odds say, which themselves rest on assumptions."
            ),
            SurveyOrder.AT_RANDOM: _(
                "It rests on: a look that sees {insects} {times} ({known}); where in a room they"
                " mainly sit ({places}); each look missing by itself, and infested rooms no"
                " likelier among those not looked at (both assumed)."
            ),
        }[plan.wish.order]
        seen = [each for room in plan.chosen for each in room.seen.values()]
        yield said.format(
            insects=insects_text(plan.wish.question.insects),
            times=between_text(min(seen), max(seen)),
            known=known_text(rules.figures.notice_deep.standing),
            places=known_text(rules.shares_standing),
        )
    if look in (SurveyLook.COVER, SurveyLook.FULL):
        yield _("Dust covers: {caution}.").format(caution=label("decide_before_opening"))
    if look in (SurveyLook.HEADBOARD, SurveyLook.FULL):
        yield _("Headboards: {caution}.").format(caution=label("headboard_two_people"))
    yield _("Lifting takes two people; local rules on lifting go first.")


def in_100_text(chance: ByStance) -> str:
    """A chance in a column that counts times in 100, with its range: "60 (47 to 72)"."""
    counts = [count_text(chance[stance]) for stance in Stance]
    if len(set(counts)) == 1:
        return counts[0]
    low, high = count_text(min(chance.values())), count_text(max(chance.values()))
    return _("{central} ({low} to {high})").format(
        central=count_text(chance[Stance.CENTRAL]), low=low, high=high
    )


def _times(chance: ByStance) -> str:
    return times_text([chance[stance] for stance in Stance])


# --- what looks of some days show ---------------------------------------------------------


def span_lines(span: SpanShown, rules: OddsRules) -> Iterator[str]:
    """What the looks of these days show, or that something was found; a line for each."""
    if not span.rooms:
        yield _("There is no room of which a survey could speak.")
        return
    if span.signs:
        yield from _sign_lines(span)
        return
    measured = rules.figures.notice_deep.standing is Standing.MEASURED
    yield from shown_lines(span.of, is_measured_here=measured)
    if span.looked:
        yield _(
            "It speaks of insects that were there on each of these days, not of what came in on"
            " one of them. Looks at one room are put together place by place."
        )
    yield from _found_lines(span.found)


def _sign_lines(span: SpanShown) -> Iterator[str]:
    yield _("On these days something was found or told: {signs}.").format(
        signs="; ".join(_sign_text(sign) for sign in span.signs)
    )
    yield _(
        "A survey speaks only where nothing was found, so these looks show nothing of the rest of"
        " the hotel. See what the cases say."
    )
    if any(not sign.is_judged for sign in span.signs):
        yield _("What is not judged yet counts until somebody judges it to be something else.")


def _sign_text(sign: SignMet) -> str:
    if sign.is_judged:
        said = _("room {room} on {day}, judged to be bed bugs")
    else:
        said = _("room {room} on {day}, not judged yet")
    return said.format(room=sign.room, day=day_text(sign.on))


def looked_sentence(span: SpanShown) -> str:
    """How many rooms were looked at on which days."""
    return ngettext(
        "Looked at from {first} to {last}: {n} of {rooms} room.",
        "Looked at from {first} to {last}: {n} of {rooms} rooms.",
        span.rooms,
    ).format(
        first=day_text(span.first_on),
        last=day_text(span.last_on),
        n=len(span.looked),
        rooms=span.rooms,
    )
