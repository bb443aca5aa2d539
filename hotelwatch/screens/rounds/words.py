"""What the rounds' page says of a draft, of what is published, and of its assumptions."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, tzinfo
from itertools import groupby

from hotelwatch.core.checks.coverage import FirstRound
from hotelwatch.core.clock_text import clock_said
from hotelwatch.core.days import minute_of
from hotelwatch.core.facts import StaysImported
from hotelwatch.core.house import House
from hotelwatch.core.parameters import Figure, Rules
from hotelwatch.core.rounds.plan import Plan, Proof
from hotelwatch.core.rounds.team_days import is_filled_up_later, published_ahead, published_round
from hotelwatch.core.stays.openings import DAY_ENDS, DAY_STARTS
from hotelwatch.wording.dates import days_text, minutes_text, moment_text, short_day_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label
from hotelwatch.wording.proofs import hand_price_sentence, proof_sentences, proof_terms
from hotelwatch.wording.replaced import shorter_list_text
from hotelwatch.wording.rounds import first_round_sentence


def draft_text(plan: Plan, house: House, entry: int) -> str:
    """A draft in a sentence or two; ``entry`` was the last one when it was made."""
    rooms = ngettext("{n} room", "{n} rooms", len(plan.slots)).format(n=len(plan.slots))
    if plan.again:
        again = ngettext("{n} look again", "{n} looks again", len(plan.again))
        rooms = _("{rooms}, and {again}").format(rooms=rooms, again=again.format(n=len(plan.again)))
    said = _(
        "Draft, not published: {first} to {last}, {rooms}. Publishing replaces these days' sheets."
    ).format(first=short_day_text(plan.from_on), last=short_day_text(plan.until_on), rooms=rooms)
    if max(house.entries, default=0) > entry:
        newer = _("Something was written down since; draft again to count it in.")
        return f"{said} {newer}"
    return said


def published_text(house: House, today: date, zone: tzinfo) -> str:
    """Since when the rounds from today on are published, how far they reach, and how whole."""
    span = published_ahead(house, today)
    told = published_round(house, *span) if span else None
    entry = told.last_entry if told else None
    if told is None or entry is None:
        return ""
    days = sorted(told.entries)
    if not told.whole:
        said = _(
            "Published on {moment} by {by}, until {last}. Coming days show the fixed visits; "
            "each morning fills up its own day."
        )
    elif any(is_filled_up_later(house, told, day, today) for day in days):
        said = _(
            "Published on {moment} by {by}, until {last}. Likely visits too: {whole}. Other coming "
            "days show the fixed visits; each morning fills up its own day."
        )
    else:
        said = _("Published whole on {moment} by {by}, until {last}: likely visits too.")
    return said.format(
        moment=moment_text(entry.recorded_at, zone),
        by=entry.by,
        last=short_day_text(days[-1]),
        whole=_runs_text(sorted(told.whole)),
    )


def _runs_text(days: Sequence[date]) -> str:
    """Days, those in a row by the first and the last: "Mon 9 Mar to Wed 11 Mar, Fri 13 Mar"."""
    runs = groupby(days, key=lambda day: day.toordinal() - days.index(day))
    said = []
    for _key, run in runs:
        first, *more = map(short_day_text, run)
        said.append(_("{first} to {last}").format(first=first, last=more[-1]) if more else first)
    return ", ".join(said)


def published_told(plan: Plan, *, whole: bool) -> str:
    """What publishing a draft did: how many rooms stand on sheets until when."""
    rooms, day = len(plan.slots if whole else plan.promised), short_day_text(plan.until_on)
    if rooms:
        told = ngettext(
            "Published: {n} room until {day}.", "Published: {n} rooms until {day}.", rooms
        )
        return told.format(n=rooms, day=day)
    if whole:
        return _("Published until {day}: no sheet has a room.").format(day=day)
    return _(
        "Published until {day}: no visit is fixed yet, so no sheet has a room. Each morning fills"
        " up its own day."
    ).format(day=day)


def proof_text(proof: Proof) -> str:
    """What a plan reaches, and what is proven of it."""
    return " ".join(proof_sentences(proof))


def proof_tip() -> str:
    """What those words mean, a line for each."""
    return "\n".join(proof_terms())


def hand_text(choices: int, price: tuple[Proof, Proof]) -> str:
    """What a supervisor's choices cost; the plan with them comes first."""
    with_hand, without = price
    return hand_price_sentence(choices, with_hand=with_hand, without=without)


def assumptions_text(house: House, unseen: FirstRound | None) -> str:
    """What a plan rests on that nobody measured; beds never seen, bookings never loaded first."""
    said = [] if unseen is None else [first_round_sentence(unseen)]
    if not (house.stays or house.all_of(StaysImported)):
        said.append(_("No bookings were loaded: every room counts as vacant all day."))
    if shorter := shorter_list_text(house):
        said.append(shorter)
    return " ".join((*said, _figures_text(house.rules)))


def _figures_text(rules: Rules) -> str:
    setup, way = rules.figures.room_setup_minutes, rules.figures.corridor_minutes
    standings = tuple(dict.fromkeys((_standing(setup), _standing(way))))
    return _(
        "A room takes {setup} to set up, a corridor {way} to go to, each bed its own minutes"
        " ({standing}). Time your own teams."
    ).format(
        setup=minutes_text(int(setup.value)),
        way=minutes_text(int(way.value)),
        standing=_("; ").join(standings),
    )


def default_cycle_text(rules: Rules) -> str:
    """Where the cycle comes from that holds while nobody chose one."""
    cycle = rules.figures.cycle_days
    return _("Where nobody chose, an underside is due every {days} ({standing}).").format(
        days=days_text(int(cycle.value)), standing=_standing(cycle)
    )


def beyond_shift_text(minutes: int, begins: str, ends: str) -> str:
    """That a shift is shorter than what plans may use of a day; empty where it is not.

    Both as typed. Raises Refusal("unknown_clock_time").
    """
    first, last = clock_said(begins) or DAY_STARTS, clock_said(ends) or DAY_ENDS
    shift = minute_of(last) - minute_of(first)
    if not 0 < shift < minutes:
        return ""
    return _(
        "The shift is {shift} long: plans use no more of the {minutes} that they may use a day."
    ).format(shift=minutes_text(shift), minutes=minutes_text(minutes))


def too_few_text(people: int, least: int) -> str:
    """That a team has too few people for any bed of the house; empty where it has not."""
    if people >= least:
        return ""
    return ngettext(
        "With {n} person it can look at no bed of this house: each needs at least {least}. Plans"
        " give it no room.",
        "With {n} people it can look at no bed of this house: each needs at least {least}. Plans"
        " give it no room.",
        people,
    ).format(n=people, least=least)


def team_minutes_text(rules: Rules) -> str:
    """Where the numbers come from that a new team begins with."""
    minutes, people = rules.figures.team_day_minutes, rules.figures.team_people
    return _(
        "A new team begins with {people} ({people_standing}) and {minutes} a day"
        " ({minutes_standing}). Put in what yours have."
    ).format(
        minutes=minutes_text(int(minutes.value)),
        minutes_standing=_standing(minutes),
        people=ngettext("{n} person", "{n} people", int(people.value)).format(n=int(people.value)),
        people_standing=_standing(people),
    )


def _standing(figure: Figure) -> str:
    said = label(figure.standing)
    return said[:1].lower() + said[1:]
