"""What a cycle buys, in words: about, from where to where by the settings, on what it rests.

Nothing here is told as sure: shares stop short of none and all, numbers have two figures and
their range, and what nobody measured is called assumed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from hotelwatch.core.odds.cycles.cycle_rows import (
    HORIZON_DAYS,
    CycleRow,
    Finder,
    KeptWay,
    LetNights,
    NextHour,
    RoomYear,
    StepWorth,
)
from hotelwatch.core.odds.cycles.cycle_ways import CheckWay, Step
from hotelwatch.core.odds_figures import OddsRules, Stance
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label
from hotelwatch.wording.odds import (
    chance_text,
    figure_text,
    known_text,
    number_text,
    numbers_text,
    percent_text,
)

ByStance = Mapping[Stance, float]
PER_HOURS, PER_MONEY = 100, 1000
"""Gains are told for so many hours or so much money: one alone saves too little to say."""
YEAR_DAYS = 365
RESTS_ON = {
    "introductions_per_room_year": m("Times a year that bed bugs come into a room and stay"),
    "notice_deep": m("A check notices one insect where it looks, chance"),
    "notice_traps": m("Traps catch one insect near them, chance"),
    "notice_glance": m("A glance at bed-making notices one insect, chance"),
    "glance_weight": m("How much such a glance counts, 0 to 1"),
    "guest_notices": m("A guest reports, chance for each insect and night"),
    "spread_side": m("It spreads to a room that shares a wall, chance a day at most"),
}
"""Figures on which a cycle's worth hangs most; all others stand with the house's figures."""


# --- ways and steps ----------------------------------------------------------------------------


def way_text(way: CheckWay) -> str:
    """A way of checking: "dust cover closed, headboard on the wall, no traps"."""
    if way.encased:
        base = _("all beds encased")
    else:
        base = _("dust cover opened") if way.cover_opened else _("dust cover closed")
    parts = [base, _("headboard off") if way.headboard_off else _("headboard on the wall")]
    parts.append(_("traps under the beds") if way.traps else _("no traps"))
    if way.longer > 1.0:
        parts.append(_("looking {times} times as long").format(times=f"{way.longer:g}"))
    return ", ".join(parts)


def step_text(worth: StepWorth) -> str:
    """What a step is, as one says it after "spent on"."""
    if worth.step is Step.SHORTER:
        return _("a look every {days}").format(days=days_text(worth.row.cycle_days))
    return {
        Step.COVER: _("opening the dust covers"),
        Step.HEADBOARD: _("taking the headboards off"),
        Step.ENCASING: _("encasing all beds"),
        Step.TRAPS: _("traps under the beds"),
        Step.LONGER: _("looking half as long again at the same places"),
    }[worth.step]


def stance_text(stance: Stance) -> str:
    """A stance by name."""
    return {
        Stance.CAUTIOUS: _("cautious"),
        Stance.CENTRAL: _("central"),
        Stance.OPTIMISTIC: _("optimistic"),
    }[stance]


# --- one cycle ---------------------------------------------------------------------------------


def detection_lines(row: CycleRow, rules: OddsRules) -> Iterator[str]:
    """How long an infestation goes unseen, how large it gets, who finds it."""
    yield _(
        "With a look every {days} ({way}) an infestation goes unseen for {unseen} days on average."
    ).format(days=days_text(row.cycle_days), way=way_text(row.way), unseen=days_cell(row))
    yield _("Half are found with up to {half} insects, 9 in 10 with up to {most}.").format(
        half=median_insects_cell(row, rules), most=many_insects_cell(row, rules)
    )
    finders = (
        (Finder.CHECK, _("a check: {chance}")),
        (Finder.TRAPS, _("traps: {chance}")),
        (Finder.GLANCE, _("whoever makes the bed: {chance}")),
        (Finder.GUEST, _("a guest: {chance}")),
    )
    said = [
        text.format(chance=chance_text(_first(row, finder)))
        for finder, text in finders
        if finder is not Finder.TRAPS or row.way.traps
    ]
    yield _("Found first by {finders}.").format(finders="; ".join(said))
    if max(_first(row, Finder.NOBODY).values()) >= 1 / PER_MONEY:
        yield _("Found by nobody within {years} years: {chance}.").format(
            years=HORIZON_DAYS // YEAR_DAYS, chance=chance_text(_first(row, Finder.NOBODY))
        )


def year_lines(row: CycleRow, rooms: int) -> Iterator[str]:
    """What so many rooms have and cost in a mean year."""
    yield ngettext(
        "In a year of {n} room: hidden days {infested}, nights closed {closed}.",
        "In a year of {n} rooms: hidden days {infested}, nights closed {closed}.",
        rooms,
    ).format(
        n=rooms,
        infested=year_cell(row, rooms, lambda year: year.infested_days),
        closed=year_cell(row, rooms, lambda year: year.nights_closed),
    )
    yield _("Work: {hours} hours of one person. Money: {spent} for looking, {cost} in all.").format(
        hours=year_cell(row, rooms, lambda year: year.hours),
        spent=year_cell(row, rooms, lambda year: year.spent),
        cost=year_cell(row, rooms, lambda year: year.cost),
    )


def days_cell(row: CycleRow) -> str:
    """Mean days unseen, with the range."""
    return numbers_text({stance: one.seen.mean_days for stance, one in row.by_stance.items()})


def median_insects_cell(row: CycleRow, rules: OddsRules) -> str:
    """Insects that half are found with at most."""
    return insects_text(
        {stance: one.seen.median_insects for stance, one in row.by_stance.items()}, rules
    )


def many_insects_cell(row: CycleRow, rules: OddsRules) -> str:
    """Insects that 9 in 10 are found with at most."""
    return insects_text(
        {stance: one.seen.many_insects for stance, one in row.by_stance.items()}, rules
    )


def first_cell(row: CycleRow, finder: Finder) -> str:
    """The share found first by someone: "36 % (28 % to 46 %)"."""
    shares = _first(row, finder)
    central = percent_text(shares[Stance.CENTRAL])
    least, most = percent_text(min(shares.values())), percent_text(max(shares.values()))
    if least == most:
        return central
    return _("{central} ({least} to {most})").format(central=central, least=least, most=most)


def year_cell(row: CycleRow, rooms: int, of_year: Callable[[RoomYear], float]) -> str:
    """What so many rooms have of something in a year, with the range."""
    return numbers_text(
        {stance: rooms * of_year(one.year) for stance, one in row.by_stance.items()}
    )


def insects_text(insects: Mapping[Stance, float | None], rules: OddsRules) -> str:
    """Insects with their range; where growth is taken to end "or more" is said."""

    def one(number: float | None, stance: Stance) -> str:
        if number is None:
            return _("more than are ever found")
        said = number_text(number if number < 1 else round(number))
        if number >= rules.figures.most_insects.of(stance):
            return _("{number} or more").format(number=said)
        return said

    in_order = sorted(insects, key=lambda stance: (insects[stance] is None, insects[stance] or 0.0))
    least, most = (one(insects[stance], stance) for stance in (in_order[0], in_order[-1]))
    central = one(insects[Stance.CENTRAL], Stance.CENTRAL)
    if least == most:
        return central
    return _("about {central} ({least} to {most})").format(central=central, least=least, most=most)


def _first(row: CycleRow, finder: Finder) -> ByStance:
    return {stance: one.seen.first[finder] for stance, one in row.by_stance.items()}


# --- the next hour -------------------------------------------------------------------------------


def next_hour_lines(answer: NextHour, rooms: int) -> Iterator[str]:
    """On what the next hour is best spent, then money, what takes no hours, and cautions."""
    yield best_hour_sentence(answer)
    yield best_money_sentence(answer)
    for worth in answer.without_hours:
        yield without_hours_sentence(worth, rooms)
    steps = {step for step in (*answer.best.values(), *answer.best_for_money.values()) if step}
    yield from caution_lines(steps | {worth.step for worth in answer.without_hours})
    yield _(
        "A hidden day: a room has bed bugs that nobody knows of. Which step saves most rests on"
        " assumptions; blind trials and your own minutes replace them."
    )


def best_hour_sentence(answer: NextHour) -> str:
    """On what the next hour of work is best spent, or that the settings disagree."""
    if not answer.agrees:
        return _(
            "On what the next hour of work is best spent the settings disagree: {choices}."
        ).format(choices=_choices(answer, answer.best, _per_hours))
    step = answer.best[Stance.CENTRAL]
    if step is None:
        return _("No step from today's way that takes hours saves hidden days.")
    worth = answer.worth(step)
    return _(
        "The next hour of work is best spent on {step}: {days} hidden days less for each"
        " {hours} hours more, by every one of the settings."
    ).format(step=step_text(worth), days=numbers_text(_per_hours(worth)), hours=PER_HOURS)


def best_money_sentence(answer: NextHour) -> str:
    """On what the next money is best spent, or that the settings disagree."""
    if not answer.agrees_for_money:
        return _(
            "On what the next money for looking is best spent the settings disagree: {choices}."
        ).format(choices=_choices(answer, answer.best_for_money, _per_money))
    step = answer.best_for_money[Stance.CENTRAL]
    if step is None:
        return _("No step from today's way saves hidden days for money.")
    worth = answer.worth(step)
    if any(gain.days_per_money is None for gain in worth.by_stance.values()):
        return _(
            "For the money first of all {step}: it costs less than looking does today."
        ).format(step=step_text(worth))
    return _(
        "The next money for looking is best spent on {step}: {days} hidden days less for"
        " each {money} of money, by every one of the settings."
    ).format(step=step_text(worth), days=numbers_text(_per_money(worth)), money=f"{PER_MONEY:,}")


def without_hours_sentence(worth: StepWorth, rooms: int) -> str:
    """What a step saves that takes no more hours."""
    gains = worth.by_stance
    return _(
        "{step} takes no more hours and saves {days} hidden days a year; covers and work"
        " together cost {money} more a year."
    ).format(
        step=_capital(step_text(worth)),
        days=numbers_text({stance: rooms * gain.days_saved for stance, gain in gains.items()}),
        money=change_text({stance: rooms * gain.spent for stance, gain in gains.items()}),
    )


def caution_lines(steps: set[Step]) -> Iterator[str]:
    """What to mind with these steps."""
    if Step.COVER in steps:
        yield _("Dust covers: {caution}.").format(caution=label("decide_before_opening"))
    if Step.HEADBOARD in steps:
        yield _("Headboards: {caution}.").format(caution=label("headboard_two_people"))
    if steps & {Step.COVER, Step.HEADBOARD, Step.ENCASING, Step.LONGER, Step.SHORTER}:
        yield _("Lifting takes two people; local rules on lifting go first.")
    if Step.TRAPS in steps:
        yield _("Traps: an empty one is no proof; theirs is a share found in homes (assumed here).")


def step_cells(worth: StepWorth, rooms: int) -> tuple[str, ...]:
    """A step, infested room-days less, hours more, money more for looking, money more in all."""
    gains = worth.by_stance
    return (
        _capital(step_text(worth)),
        change_text({stance: rooms * gain.days_saved for stance, gain in gains.items()}),
        change_text({stance: rooms * gain.hours for stance, gain in gains.items()}),
        change_text({stance: rooms * gain.spent for stance, gain in gains.items()}),
        change_text({stance: rooms * gain.cost for stance, gain in gains.items()}),
    )


def change_text(change: ByStance) -> str:
    """A change with its range; fewer has a minus sign."""
    central = _signed(change[Stance.CENTRAL])
    least, most = _signed(min(change.values())), _signed(max(change.values()))
    if least == most:
        return central
    return _("about {central} ({least} to {most})").format(central=central, least=least, most=most)


def _signed(number: float) -> str:
    said = number_text(abs(number))
    return _("−{number}").format(number=said) if number < 0 else said


def _choices(
    answer: NextHour, best: Mapping[Stance, Step | None], rate: Callable[[StepWorth], ByStance]
) -> str:
    parts = []
    for stance in Stance:
        step = best[stance]
        if step is None:
            parts.append(_("nothing ({stance} ones)").format(stance=stance_text(stance)))
            continue
        worth = answer.worth(step)
        parts.append(
            _("{step} ({stance} ones)").format(step=step_text(worth), stance=stance_text(stance))
        )
    return join(parts)


def _per_hours(worth: StepWorth) -> ByStance:
    gains = worth.by_stance.items()
    return {stance: PER_HOURS * (gain.days_per_hour or 0.0) for stance, gain in gains}


def _per_money(worth: StepWorth) -> ByStance:
    gains = worth.by_stance.items()
    return {stance: PER_MONEY * (gain.days_per_money or 0.0) for stance, gain in gains}


def _capital(said: str) -> str:
    return said[:1].upper() + said[1:]


# --- on what it rests ----------------------------------------------------------------------------


def rests_lines(rules: OddsRules, let: LetNights | None) -> Iterator[str]:
    """The inputs that matter most, each with how well it is known; ``let`` None: as told."""
    for key, name in RESTS_ON.items():
        figure = rules.figure(key)
        if figure is not None:
            yield _("{name}: {values} ({known}).").format(
                name=_(name), values=figure_text(figure), known=known_text(figure.standing)
            )
    yield _("Nights with guests: as told here.") if let is None else let_sentence(let)
    yield _("Growth by age, where insects sit, and how clumped they are: assumed.")
    yield _(
        "Spread counts one step: rooms that a neighbour infects in turn are left out. Every look"
        " is taken to be as the way says, and in time."
    )


def let_sentence(let: LetNights) -> str:
    """The share of nights let, and whether it is known."""
    share = percent_text(let.share)
    if not let.nights:
        return _("Nights with guests: {share} (assumed: no bookings are known).").format(
            share=share
        )
    return ngettext(
        "Nights with guests: {share} (from the bookings of the last night).",
        "Nights with guests: {share} (from the bookings of the last {n} nights).",
        let.nights,
    ).format(share=share, n=let.nights)


def kept_sentence(kept: KeptWay) -> str:
    """On how many checks today's way is read from."""
    if not kept.bases and not kept.rooms:
        return _("How hidden places are looked at today is not on record: taken as closed.")
    return _(
        "On record of the last year: deep checks of beds with a dust cover {bases}, cover opened"
        " in {covers}; deep checks of rooms {rooms}, headboard taken off in {headboards}."
    ).format(
        covers=kept.covers_opened,
        bases=kept.bases,
        headboards=kept.headboards_off,
        rooms=kept.rooms,
    )
