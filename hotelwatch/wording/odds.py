"""Odds in words: about, from where to where, on what they rest; never a certainty.

One or two figures, nothing below one in ten thousand, nothing that reads as never or always.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from hotelwatch.core.odds_figures import ByStance, OddsFigure, OddsRules, Stance
from hotelwatch.core.standing import Standing
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.names import label

if TYPE_CHECKING:
    # Their modules bring arrays along, which take time to load.
    from hotelwatch.core.odds.rows import GroupRow
    from hotelwatch.core.odds.story import LastVisit, RoomStory

RAREST = 10_000
"""Nothing is told as rarer than one in so many."""
OFTEN = 0.35
"""From here on a chance is told in tenths."""
NEARLY = 0.95
TEN, IN_ALL = 10, 100
TWO_FIGURES = 2
LEAST_NUMBER = 0.01
SMALL_COUNT = 10
UNBROKEN = "\u00a0"
"""A space at which no line breaks."""


# --- one chance ---------------------------------------------------------------------------


def one_in(chance: float) -> str:
    """A chance as "1 in 140" or "6 in 10"; at its ends in words that stay short of certainty."""
    if chance < 1 / RAREST:
        return _("less likely than 1 in 10,000")
    if chance > NEARLY:
        return _("likelier than 19 in 20")
    if chance >= OFTEN:
        return _("{n} in 10").format(n=min(9, round(chance * TEN)))
    return _("1 in {n}").format(n=f"{_two_figures(1 / chance):,.0f}")


def _two_figures(number: float) -> float:
    digits = len(str(int(number)))
    return round(number, TWO_FIGURES - digits) if digits > TWO_FIGURES else round(number)


def chance_text(chance: ByStance) -> str:
    """A chance with its range: "about 1 in 140 (1 in 60 to 1 in 400)"."""
    central = one_in(chance[Stance.CENTRAL])
    most, least = one_in(max(chance.values())), one_in(min(chance.values()))
    said = central if chance[Stance.CENTRAL] < 1 / RAREST else _about(central)
    if most == least:
        return said
    return _("{said} ({most} to {least})").format(said=said, most=most, least=least)


def _about(said: str) -> str:
    return said if " " in said and not said[0].isdigit() else _("about {said}").format(said=said)


def central_text(chance: ByStance) -> str:
    """The central stance alone, for a column that has its range beside it."""
    return one_in(chance[Stance.CENTRAL])


def range_text(chance: ByStance) -> str:
    """From the least to the most favourable stance."""
    most, least = one_in(max(chance.values())), one_in(min(chance.values()))
    return most if most == least else _("{most} to {least}").format(most=most, least=least)


def range_cell(chance: ByStance) -> str:
    """The same for a narrow column: its line breaks between the two, not within "1 in 140"."""
    most, least = one_in(max(chance.values())), one_in(min(chance.values()))
    if most == least:
        return most
    kept = [end.replace(" ", UNBROKEN) if end[0].isdigit() else end for end in (most, least)]
    return _("{most} to {least}").format(most=kept[0], least=kept[1])


def percent_text(chance: float) -> str:
    """A chance in whole hundredths, short of none and all."""
    hundredths = round(chance * IN_ALL)
    if hundredths >= IN_ALL:
        return _("more than 99 %")
    if hundredths <= 0:
        return _("less than 1 %")
    return _("{n} %").format(n=hundredths)


def percents_text(chance: ByStance) -> str:
    """A chance in hundredths with its range: "93 % (61 % to 99 %)"."""
    return _("{central} ({least} to {most})").format(
        central=percent_text(chance[Stance.CENTRAL]),
        least=percent_text(min(chance.values())),
        most=percent_text(max(chance.values())),
    )


def number_text(number: float) -> str:
    """An expected number, with one or two figures."""
    if number < LEAST_NUMBER:
        return _("less than 0.01")
    if number < SMALL_COUNT:
        return f"{number:.2g}"
    return f"{_two_figures(number):,.0f}"


def level_text(number: float) -> str:
    """A number beside a chart's line."""
    return f"{number:,.0f}" if number >= IN_ALL else f"{number:.2g}"


def numbers_text(number: ByStance) -> str:
    """An expected number with its range: "about 0.15 (0.05 to 0.6)"."""
    central = number_text(number[Stance.CENTRAL])
    least, most = number_text(min(number.values())), number_text(max(number.values()))
    if least == most:
        return central
    if number[Stance.CENTRAL] < LEAST_NUMBER:
        return _("{central} (up to {most})").format(central=central, most=most)
    return _("about {central} ({least} to {most})").format(central=central, least=least, most=most)


# --- the hotel ----------------------------------------------------------------------------


def hotel_lines(row: GroupRow, rules: OddsRules) -> tuple[str, ...]:
    """How the hotel stands, first the expected number, then the chance of none, then why."""
    found = ngettext(
        "{n} room with a confirmed find is not counted here.",
        "{n} rooms with confirmed finds are not counted here.",
        row.found,
    ).format(n=row.found)
    lines = [
        _("Infested rooms that nobody knows of, expected now: {number}, of {rooms}.").format(
            number=numbers_text(row.expected), rooms=row.rooms
        ),
        _("Chance that there is none, if the assumptions hold: {chance}.").format(
            chance=percents_text(row.none)
        ),
    ]
    if row.found:
        lines.append(found)
    lines.append(main_assumption(rules))
    return tuple(lines)


def main_assumption(rules: OddsRules) -> str:
    """On which figure everything rests most."""
    figure = rules.figures.introductions_per_room_year
    return _(
        "Main assumption: bed bugs come into a room and stay once in {years} years ({most} to"
        " {least}), {known}."
    ).format(
        years=_years(figure.value),
        most=_years(max(figure.cautious, figure.optimistic)),
        least=_years(min(figure.cautious, figure.optimistic)),
        known=known_text(figure.standing),
    )


def _years(per_year: float) -> str:
    return f"{_two_figures(1 / per_year):,.0f}" if per_year else _("very many")


def known_text(standing: Standing) -> str:
    """How well an input is known, in the two words that stand beside it."""
    if standing is Standing.MEASURED:
        return _("measured here")
    if standing is Standing.ASSUMPTION:
        return _("assumed")
    return label(standing).lower()


# --- a room -------------------------------------------------------------------------------


def room_lines(story: RoomStory, chance: ByStance, *, is_found: bool) -> tuple[str, ...]:
    """How likely something was missed, what was looked at, what was not, since when."""
    looks = list(last_visit_lines(story.last)) if story.last else [_never_text(story)]
    if is_found:
        return (_("Bed bugs were confirmed here, and no treatment since is on record."), *looks)
    missed = _("Chance that something is there and was missed: {chance}.").format(
        chance=chance_text(chance)
    )
    later = _("If nobody looks in the next 30 days, it is then {chance}.").format(
        chance=chance_text(story.in_a_month)
    )
    return (missed, later, *looks, _arrivals_text(story), _if_there_text(story))


def _if_there_text(story: RoomStory) -> str:
    """Since when something is there, if it is, and how many by now."""
    first, last = story.window[Stance.CENTRAL]
    insects = round(story.insects[Stance.CENTRAL])
    if story.treated_on is not None and last <= story.treated_on:
        return ngettext(
            "If something is there, it most likely outlived the treatment of {day}, and there is"
            " about {n} insect by now.",
            "If something is there, it most likely outlived the treatment of {day}, and there are"
            " about {n} insects by now.",
            insects,
        ).format(day=day_text(story.treated_on), n=insects)
    return ngettext(
        "If something is there, it came in most likely between {first} and {last} (90 %), and"
        " there is about {n} insect by now.",
        "If something is there, it came in most likely between {first} and {last} (90 %), and"
        " there are about {n} insects by now.",
        insects,
    ).format(first=day_text(first), last=day_text(last), n=insects)


def last_visit_lines(visit: LastVisit) -> Iterable[str]:
    """The last look: what it showed, what it left out, what it would have missed."""
    seen, unseen = _listed(visit.seen), _listed(visit.unseen)
    if visit.has_find:
        yield _("Something was found on {day}.").format(day=day_text(visit.on))
    else:
        yield _("Nothing found on {day}.").format(day=day_text(visit.on))
    yield _("Looked at: {places}.").format(places=seen or _("no place is ticked"))
    if unseen:
        yield _("Not looked at: {places}.").format(places=unseen)
    yield _(
        "An infestation of about {insects} insects would be missed by this look {times} (assumed)."
    ).format(insects=visit.insects, times=times_text(visit.missed))


def times_text(chance: ByStance) -> str:
    """How often: "about 6 times in 10 (5 to 7)"."""
    tenths = {stance: min(9, max(1, round(each * TEN))) for stance, each in chance.items()}
    least, most = min(tenths.values()), max(tenths.values())
    central = tenths[Stance.CENTRAL]
    said = ngettext("about {n} time in 10", "about {n} times in 10", central).format(n=central)
    if least == most:
        return said
    return _("{said} ({least} to {most})").format(said=said, least=least, most=most)


def _listed(codes: Iterable[str]) -> str:
    """Places one by one; names of places have commas of their own."""
    return "; ".join(label(code) for code in codes)


def _never_text(story: RoomStory) -> str:
    return _("Nobody has looked at this room since its record began on {day}.").format(
        day=day_text(story.record_from)
    )


def _arrivals_text(story: RoomStory) -> str:
    count = round(story.arrivals_since)
    if story.is_expected:
        return ngettext(
            "About {n} stay is taken to have begun since: not all bookings are at hand.",
            "About {n} stays are taken to have begun since: not all bookings are at hand.",
            count,
        ).format(n=count)
    if not count:
        return _("No stay has begun since.")
    return ngettext("{n} stay has begun since.", "{n} stays have begun since.", count).format(
        n=count
    )


# --- the figures --------------------------------------------------------------------------


def figure_text(figure: OddsFigure) -> str:
    """A figure's three values: the central one, then the cautious and the optimistic one."""
    if figure.cautious == figure.optimistic == figure.value:
        return f"{figure.value:g}"
    return _("{central} (cautious {cautious}, optimistic {optimistic})").format(
        central=f"{figure.value:g}",
        cautious=f"{figure.cautious:g}",
        optimistic=f"{figure.optimistic:g}",
    )
