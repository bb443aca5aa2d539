"""What a picture of cycles can show, each as lines over cycle lengths and as a table's cells."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from hotelwatch.actions.cycle_worth import Weighed
from hotelwatch.core.odds.cycles.cycle_rows import CycleRow, Finder, RoomYear
from hotelwatch.core.odds_figures import OddsRules, Stance
from hotelwatch.screens.charts.curves import Curve, Point
from hotelwatch.wording.cycle import (
    days_cell,
    first_cell,
    many_insects_cell,
    median_insects_cell,
    year_cell,
)
from hotelwatch.wording.language import _
from hotelwatch.wording.odds import number_text, percent_text

IN_ALL = 100


def _level_number(number: float) -> str:
    return f"{number:,.10g}"


Values = Mapping[Stance, float]
Valued = Callable[[CycleRow, Weighed], Values]
Said = Callable[[CycleRow, Weighed], str]


@dataclass(frozen=True, slots=True)
class Line:
    """A named line over cycle lengths: of what is tried, or of what it is held against."""

    name: str
    is_against: bool
    valued: Valued
    said: Said

    def rows(self, weighed: Weighed) -> tuple[CycleRow, ...]:
        """The rows that it runs over."""
        return weighed.against if self.is_against else weighed.tried

    def curve(self, weighed: Weighed) -> Curve:
        """The line with its band."""
        asked, name = weighed.asked, self.name
        if self.is_against and asked.against.way == asked.basis.today.way:
            name = _("today's way")
        return Curve(name, tuple(self._point(row, weighed) for row in self.rows(weighed)))

    def _point(self, row: CycleRow, weighed: Weighed) -> Point:
        values = self.valued(row, weighed)
        low, high = min(values.values()), max(values.values())
        return Point(float(row.cycle_days), low, values[Stance.CENTRAL], high)


@dataclass(frozen=True, slots=True)
class Measure:
    """Something that a cycle brings."""

    key: str
    name: str
    """As one chooses it."""
    up: str
    """What goes up, in which unit."""
    lines: tuple[Line, ...]
    """All that its table shows."""
    level_text: Callable[[float], str] = _level_number
    value_text: Callable[[float], str] = number_text

    def lines_of(self, weighed: Weighed) -> tuple[Line, ...]:
        """The lines to draw: none twice, and none of a finder that there is not."""
        is_same = weighed.asked.tried.way == weighed.asked.against.way
        lines = [line for line in self.lines if not (is_same and line.is_against)]
        return tuple(
            line
            for line in lines
            if any(any(line.valued(row, weighed).values()) for row in line.rows(weighed))
        )


def measures() -> tuple[Measure, ...]:
    """Everything that the picture can show, in the order of its list."""
    return (
        Measure(
            "days",
            _("Days until it is found"),
            _("Days until an infestation is found, on average"),
            _both(_days, lambda row, _weighed: days_cell(row)),
        ),
        Measure(
            "half",
            _("Insects when it is found, usually"),
            _("Insects when it is found: half of all have no more"),
            _both(_median, lambda row, weighed: median_insects_cell(row, _rules(weighed))),
            value_text=_whole,
        ),
        Measure(
            "many",
            _("Insects when it is found, in bad cases"),
            _("Insects when it is found: 9 in 10 have no more"),
            _both(_late, lambda row, weighed: many_insects_cell(row, _rules(weighed))),
            value_text=_whole,
        ),
        _finders(),
        Measure(
            "guest",
            _("How often a guest finds it first"),
            _("Share of infestations that a guest finds first"),
            _both(_first_by(Finder.GUEST), _first_said(Finder.GUEST)),
            level_text=_level_percent,
            value_text=percent_text,
        ),
        _yearly(
            "infested",
            _("Hidden days a year"),
            _("Days on which a room has bed bugs that nobody knows of, a year, whole hotel"),
            lambda year: year.infested_days,
        ),
        _yearly(
            "hours",
            _("Hours of work a year"),
            _("Hours of one person for looking, a year, whole hotel"),
            lambda year: year.hours,
        ),
        _yearly(
            "cost",
            _("Cost a year"),
            _("Money a year, whole hotel: looking, and what finds cost"),
            lambda year: year.cost,
        ),
    )


def _both(valued: Valued, said: Said) -> tuple[Line, Line]:
    return (
        Line(_("as chosen"), is_against=False, valued=valued, said=said),
        Line(_("to compare"), is_against=True, valued=valued, said=said),
    )


def _finders() -> Measure:
    finders = (
        (Finder.CHECK, _("a check")),
        (Finder.GUEST, _("a guest")),
        (Finder.GLANCE, _("bed-making")),
        (Finder.TRAPS, _("traps")),
    )
    lines = tuple(
        Line(name, is_against=False, valued=_first_by(finder), said=_first_said(finder))
        for finder, name in finders
    )
    return Measure(
        "finders",
        _("Who finds it first"),
        _("Share of infestations found first by each, as chosen"),
        lines,
        level_text=_level_percent,
        value_text=percent_text,
    )


def _yearly(key: str, name: str, up: str, of_year: Callable[[RoomYear], float]) -> Measure:
    def valued(row: CycleRow, weighed: Weighed) -> Values:
        rooms = weighed.asked.basis.rooms
        return {stance: rooms * of_year(one.year) for stance, one in row.by_stance.items()}

    def said(row: CycleRow, weighed: Weighed) -> str:
        return year_cell(row, weighed.asked.basis.rooms, of_year)

    return Measure(key, name, up, _both(valued, said))


def _rules(weighed: Weighed) -> OddsRules:
    return weighed.asked.basis.rules


def _days(row: CycleRow, _weighed: Weighed) -> Values:
    return {stance: one.seen.mean_days for stance, one in row.by_stance.items()}


def _median(row: CycleRow, weighed: Weighed) -> Values:
    seen = {stance: one.seen.median_insects for stance, one in row.by_stance.items()}
    return _capped(seen, weighed)


def _late(row: CycleRow, weighed: Weighed) -> Values:
    seen = {stance: one.seen.many_insects for stance, one in row.by_stance.items()}
    return _capped(seen, weighed)


def _capped(insects: Mapping[Stance, float | None], weighed: Weighed) -> Values:
    """More than are ever found stand where growth is taken to end."""
    most = _rules(weighed).figures.most_insects
    return {stance: most.of(stance) if n is None else n for stance, n in insects.items()}


def _first_by(finder: Finder) -> Valued:
    return lambda row, _weighed: {
        stance: one.seen.first[finder] for stance, one in row.by_stance.items()
    }


def _first_said(finder: Finder) -> Said:
    return lambda row, _weighed: first_cell(row, finder)


def _level_percent(share: float) -> str:
    return _("{n} %").format(n=round(share * IN_ALL))


def _whole(number: float) -> str:
    return number_text(round(number))
