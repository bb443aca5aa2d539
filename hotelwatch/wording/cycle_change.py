"""What another cycle or way buys and costs against one, in sentences, and what it rests on."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from hotelwatch.core.odds.cycles.cycle_rows import (
    NEGLIGIBLE,
    CycleRow,
    Finder,
    Gain,
    RoomYear,
    gains_of,
)
from hotelwatch.core.odds.cycles.cycle_ways import CheckWay, Step
from hotelwatch.core.odds_figures import ByStance, OddsRules, Stance
from hotelwatch.wording.cycle import (
    caution_lines,
    days_cell,
    detection_lines,
    first_cell,
    median_insects_cell,
    way_text,
    year_cell,
    year_lines,
)
from hotelwatch.wording.dates import days_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.odds import known_text, number_text, numbers_text


@dataclass(frozen=True, slots=True)
class Thing:
    """What there is more or less of, as a phrase for each case."""

    less: str
    more: str
    either: str
    same: str
    of: Callable[[Gain], float]


THINGS = (
    Thing(
        m("{number} hidden days less"),
        m("{number} hidden days more"),
        m("from {less} hidden days less to {more} more"),
        m("as many hidden days"),
        lambda gain: -gain.days_saved,
    ),
    Thing(
        m("{number} hours of work less"),
        m("{number} hours of work more"),
        m("from {less} hours of work less to {more} more"),
        m("as many hours of work"),
        lambda gain: gain.hours,
    ),
    Thing(
        m("{number} less for looking"),
        m("{number} more for looking"),
        m("from {less} less for looking to {more} more"),
        m("as much for looking"),
        lambda gain: gain.spent,
    ),
    Thing(
        m("{number} less in all, with what finds cost"),
        m("{number} more in all, with what finds cost"),
        m("in all, with what finds cost, from {less} less to {more} more"),
        m("as much in all, with what finds cost"),
        lambda gain: gain.cost,
    ),
)


# --- against one another -------------------------------------------------------------------------


def as_is_lines(row: CycleRow, rooms: int, rules: OddsRules) -> tuple[str, str]:
    """What a cycle and a way bring by themselves: the year, then what becomes of one find."""
    return " ".join(year_lines(row, rooms)), "\n".join(detection_lines(row, rules))


def change_lines(
    row: CycleRow, against: CycleRow, *, rooms: int, rules: OddsRules, is_today: bool
) -> tuple[str, str]:
    """What a trial buys and costs against another: the year, then what becomes of a find."""
    gains = gains_of(against, row)
    infested, hours, spent, cost = (
        change_phrase(thing, {stance: rooms * thing.of(gain) for stance, gain in gains.items()})
        for thing in THINGS
    )
    year = ngettext(
        "{against}, in a year of {n} room: {infested}; {hours}.",
        "{against}, in a year of {n} rooms: {infested}; {hours}.",
        rooms,
    ).format(
        against=against_text(row, against, is_today=is_today),
        n=rooms,
        infested=infested,
        hours=hours,
    )
    money = _("Money: {spent}; {cost}.").format(spent=spent, cost=cost)
    days = _("Hidden days a year: {infested}, instead of {before}.").format(
        infested=year_cell(row, rooms, _infested), before=year_cell(against, rooms, _infested)
    )
    return year, "\n".join((money, days, *_found_lines(row, against, rules)))


def _infested(year: RoomYear) -> float:
    return year.infested_days


def against_text(row: CycleRow, against: CycleRow, *, is_today: bool) -> str:
    """Against what: "Against today's 90 days"; the way is named where it is another one."""
    named = {"days": days_text(against.cycle_days), "way": way_text(against.way)}
    if row.way == against.way:
        said = _("Against today's {days}") if is_today else _("Against a look every {days}")
    elif is_today:
        said = _("Against today's {days} ({way})")
    else:
        said = _("Against a look every {days} ({way})")
    return said.format(**named)


def change_phrase(thing: Thing, change: ByStance) -> str:
    """More or less of something, with its range: "about 28 (20 to 40) hours of work more"."""
    least, most = min(change.values()), max(change.values())
    if max(-least, most) <= NEGLIGIBLE:
        return _(thing.same)
    if least < -NEGLIGIBLE and most > NEGLIGIBLE:
        return _(thing.either).format(less=number_text(-least), more=number_text(most))
    text = thing.less if least < -NEGLIGIBLE else thing.more
    sizes = {stance: abs(number) for stance, number in change.items()}
    return _(text).format(number=numbers_text(sizes))


def _found_lines(row: CycleRow, against: CycleRow, rules: OddsRules) -> Iterator[str]:
    yield _("An infestation goes unseen for {days} days on average, instead of {before}.").format(
        days=days_cell(row), before=days_cell(against)
    )
    yield _("Half are found with up to {insects} insects, instead of {before}.").format(
        insects=median_insects_cell(row, rules), before=median_insects_cell(against, rules)
    )
    yield _("A guest finds it first: {share}, instead of {before}.").format(
        share=first_cell(row, Finder.GUEST), before=first_cell(against, Finder.GUEST)
    )


def trial_cautions(way: CheckWay, before: CheckWay) -> tuple[str, ...]:
    """What to mind with a way that does more than the one before."""
    more = {
        Step.COVER: way.cover_opened and not before.cover_opened,
        Step.HEADBOARD: way.headboard_off and not before.headboard_off,
        Step.ENCASING: way.encased and not before.encased,
        Step.TRAPS: way.traps and not before.traps,
    }
    return tuple(caution_lines({step for step, is_more in more.items() if is_more}))


def range_sentence() -> str:
    """What brackets mean, and the word for days that count."""
    return _(
        "First number: central assumptions; in brackets: from optimistic to cautious ones, the"
        " three settings. A hidden day is a day on which a room has bed bugs that nobody"
        " knows of yet. The next hour is weighed from how things are today."
    )


def choose_question(days: int, before: int, own_cycles: int) -> str:
    """Whether to make a cycle the house's, and for which rooms that changes nothing."""
    said = _(
        "Every bed of the hotel is then due every {days} instead of {before}, and due dates move"
        " at once. How beds are looked at is up to whoever looks: it is not set here."
    ).format(days=days_text(days), before=days_text(before))
    if not own_cycles:
        return said
    kept = ngettext(
        "{n} room keeps the cycle of its own.",
        "{n} rooms keep the cycles of their own.",
        own_cycles,
    ).format(n=own_cycles)
    return f"{said} {kept}"


# --- inputs --------------------------------------------------------------------------------------


def cover_input(rules: OddsRules) -> str:
    """What opening dust covers takes, and how well that is known."""
    return _input_text(rules, "extra_minutes_cover", m("{values} minutes more for each bed"))


def headboard_input(rules: OddsRules) -> str:
    """What taking headboards off takes."""
    return _input_text(rules, "extra_minutes_headboard", m("{values} minutes more for each bed"))


def encasing_input(rules: OddsRules) -> str:
    """What encasing costs; minutes of encased beds are those of the hotel's figures."""
    return _input_text(rules, "price_encasing", m("a price of {values} for each bed and year"))


def traps_input(rules: OddsRules, every_days: int) -> str:
    """What traps take and cost."""
    reading = _input_text(rules, "minutes_read_traps", m("read every {days}: {values} minutes"))
    price = _input_text(rules, "price_traps", m("a price of {values} for each room and year"))
    return f"{reading.format(days=days_text(every_days))}; {price}"


PRICES = {
    "price_work_hour": m("An hour of work: {values}"),
    "price_room_night": m("A night on which a room can't be sold: {values}"),
    "price_treatment": m("A treatment of a room: {values}"),
    "price_guest_find": m("What it costs more when a guest finds it: {values}"),
}


def price_lines(rules: OddsRules) -> Iterator[str]:
    """The prices by which money is reckoned, each with how well it is known."""
    for key, text in PRICES.items():
        yield _input_text(rules, key, text)


def _input_text(rules: OddsRules, key: str, text: str) -> str:
    figure = rules.figure(key)
    if figure is None:
        return ""
    values = {stance: figure.of(stance) for stance in Stance}
    said = _(text).replace("{values}", _values_text(values))
    return _("{said} ({known})").format(said=said, known=known_text(figure.standing))


def _values_text(values: Mapping[Stance, float]) -> str:
    least, most = min(values.values()), max(values.values())
    central = f"{values[Stance.CENTRAL]:,g}"
    if least == most:
        return central
    return _("{central} ({least} to {most})").format(
        central=central, least=f"{least:,g}", most=f"{most:,g}"
    )
