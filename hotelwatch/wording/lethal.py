"""What a log of probes shows, in sentences: a dose reached where a probe lay, no more."""

from __future__ import annotations

import math
from collections.abc import Mapping
from datetime import datetime, tzinfo

from hotelwatch.core.lethal.curves import Curve, Floor, LogCurves, LogRow
from hotelwatch.core.lethal.dose import Method
from hotelwatch.core.lethal.verdict import Lack, LogVerdict, ProbeVerdict
from hotelwatch.core.parameters import Figures
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.profiles import SPECIES

HOUR = 60

PLACES = {
    "mattress_core": m("Mattress core"),
    "base_inside": m("Inside the base"),
    "headboard": m("Behind the headboard"),
    "furniture": m("In furniture"),
    "wall_void": m("In a wall void"),
    "floor_edge": m("At the floor's edge"),
    "luggage": m("In luggage"),
    "item_core": m("Core of the thing treated"),
    "air": m("Air of the room"),
}
METHODS = {"heat": m("Heat"), "cold": m("Cold")}

LACKS: Mapping[str, str] = {
    "species_unknown": m(
        "Lethal temperatures of this species are not known here ({species}): nothing is concluded."
    ),
    "no_probe": m("The log has no readings."),
    "no_core_probe": m(
        "No probe lay in the core of a mattress, a base or the thing treated: the slowest place"
        " was not measured."
    ),
    "minutes_short": m("{probe}: {span} more at {celsius} °C were needed."),
    "never_lethal": m(
        "{probe}: it never came to {floor} °C (its best was {best} °C), so nothing counts."
    ),
    "refused": m("{probe}: {span} do not count, on the wrong side of {floor} °C."),
    "gap": m("{probe}: no reading for {span} from {at}; nothing counts across the gap."),
    "fell_off": m(
        "{probe}: from {at} on it moved unlike the others. It seems to have fallen off, and"
        " nothing counts after that."
    ),
    "stuck": m(
        "{probe}: from {at} on it shows one and the same while the others move, and nothing"
        " counts after that."
    ),
}

Pair = tuple[str, str]
PROBE_PROBLEMS: dict[str, Pair] = {
    "probe_no_time": (
        m("No column of {file} tells the time."),
        m("Say which column has the time, or minutes since the beginning."),
    ),
    "probe_no_probe": (
        m("No column of {file} has readings of a probe."),
        m("Say which columns are probes."),
    ),
    "probe_no_unit": (
        m("No heading of {file} says whether readings are in °C or °F."),
        m("Say which; nobody guesses."),
    ),
    "probe_two_units": (
        m("Headings of {file} name °C as well as °F."),
        m("Say which one the readings are in, or make one log for each."),
    ),
    "probe_no_start": (
        m("The times of {file} name no day."),
        m("Say when the log began."),
    ),
    "probe_time_unreadable": (
        m("“{value}” is no time; the row is left out."),
        m("Write times as 2026-03-09 10:40."),
    ),
    "probe_day_or_month": (
        m("“{value}” can be read with the day or with the month first."),
        m("Say which comes first."),
    ),
    "probe_not_a_reading": (
        m("{probe}: “{value}” is no temperature; the reading is left out."),
        m("Write a number; leave the cell empty where there is none."),
    ),
    "probe_reading_absurd": (
        m("{probe}: {value} can't be a temperature of a room; the reading is left out."),
        m("Look whether the unit is right and the probe was sound."),
    ),
    "probe_out_of_order": (
        m("{value} comes before the time above it; readings were put in order."),
        m("Look whether two logs were put together."),
    ),
    "probe_time_twice": (
        m("{value} stands twice; the first reading counts."),
        m("Look whether two logs were put together."),
    ),
}


def place_name(place: str) -> str:
    """Where a probe lies."""
    return _(PLACES[place]) if place in PLACES else _("not said")


def lack_sentence(lack: Lack, zone: tzinfo) -> str:
    """What a log does not show."""
    said: dict[str, str] = {}
    for key, value in lack.values.items():
        if isinstance(value, datetime):
            said[key] = moment_text(value, zone)
        elif isinstance(value, float):
            said[key] = f"{value:.1f}".removesuffix(".0")
        else:
            said[key] = str(value)
    if "minutes" in lack.values:
        said["span"] = span_text(float(lack.values["minutes"]))
    if lack.code == "species_unknown":
        said["species"] = _(SPECIES.get(lack.values["species"], lack.values["species"]))
    if lack.code == "never_lethal" and math.isnan(lack.values["best"]):
        return _("{probe}: no reading of it counts.").format(**said)
    return _(LACKS[lack.code]).format(**said)


def span_text(minutes: float) -> str:
    """Minutes, or hours where they are many."""
    whole = math.ceil(minutes)
    if whole < 3 * HOUR:
        return ngettext("{n} minute", "{n} minutes", whole).format(n=whole)
    hours = math.ceil(whole / HOUR)
    return ngettext("{n} hour", "{n} hours", hours).format(n=hours)


def dose_text(dose: float) -> str:
    """A dose as a number of times."""
    return f"{dose:.2f}" if dose < 10 else f"{dose:.0f}"  # noqa: PLR2004 two digits say enough


def headline(verdict: LogVerdict) -> str:
    """What the log shows as a whole; never that anything is gone."""
    deciding = verdict.deciding
    if not verdict.is_known:
        return _("Nothing is concluded from this log.")
    if deciding is None:
        return _("The log has no readings.")
    values = {
        "probe": deciding.probe.name,
        "dose": dose_text(deciding.dose_eggs),
        "wanted": dose_text(verdict.wanted),
    }
    if verdict.is_reached:
        return _(
            "Every probe reached the dose asked for. {probe} decides: {dose} of {wanted}. Places"
            " without a probe were not measured."
        ).format(**values)
    if deciding.dose_eggs >= verdict.wanted:
        return _(
            "The log does not show the dose asked for at every place that counts. Of the probes,"
            " {probe} has the least: {dose}, where {wanted} is asked."
        ).format(**values)
    return _(
        "The log does not show the dose asked for. {probe} decides: {dose} of {wanted}."
    ).format(**values)


def stretch_text(one: ProbeVerdict, figures: Figures, method: Method) -> str:
    """How long a probe was as hot as the plain rule has it; empty for cold."""
    if method is Method.COLD:
        return ""
    celsius = figures.plain_heat_celsius.value
    if not one.plain_minutes:
        return _("never at {celsius:g} °C or more").format(celsius=celsius)
    return _("at {celsius:g} °C or more for {span} on end").format(
        celsius=celsius, span=span_text(one.plain_minutes)
    )


def doses_text(one: ProbeVerdict, method: Method) -> str:
    """The dose at a probe; in cold one figure stands for all stages."""
    if method is Method.COLD:
        return _("dose {dose}, all stages").format(dose=dose_text(one.dose_eggs))
    return _("dose for eggs {eggs}, for adults {adults}").format(
        eggs=dose_text(one.dose_eggs), adults=dose_text(one.dose_adults)
    )


def plain_rule_text(figures: Figures, method: Method) -> str:
    """The plain rule that stands beside the dose; empty for cold."""
    if method is Method.COLD:
        return ""
    return _(
        "The plain rule beside it (common practice): {celsius:g} °C or more for {minutes:g} minutes"
        " on end at every probe."
    ).format(celsius=figures.plain_heat_celsius.value, minutes=figures.plain_heat_minutes.value)


FLOORS = {
    "eggs": m("eggs: counts from {celsius:g} °C"),
    "adults": m("adults: counts from {celsius:g} °C"),
    "all": m("counts at {celsius:g} °C and colder"),
}


def floor_text(floor: Floor) -> str:
    """From which temperature on something is credited, and against whom."""
    return _(FLOORS[floor.whose]).format(celsius=floor.celsius)


def curve_text(curve: Curve) -> str:
    """A probe's line in a legend: letter, name, and where it lies."""
    if not curve.place:
        return _("{letter}  {probe}").format(letter=curve.letter, probe=curve.name)
    return _("{letter}  {probe} ({place})").format(
        letter=curve.letter, probe=curve.name, place=place_name(curve.place).lower()
    )


def celsius_text(celsius: float | None) -> str:
    """A reading; a dash where there is none."""
    return "–" if celsius is None else f"{celsius:.1f}"


def row_text(row: LogRow, curves: LogCurves, zone: tzinfo) -> str:
    """What stands at a moment of a log: each probe's reading, and the running dose."""
    said = [
        _("{letter} {celsius} °C").format(letter=curve.letter, celsius=celsius_text(celsius))
        for curve, celsius in zip(curves.curves, row.celsius, strict=True)
    ]
    values = {"at": moment_text(row.at, zone), "readings": join(said)}
    if row.dose is None:
        return _("{at}: {readings}.").format(**values)
    return _("{at}: {readings}; dose of {letter} so far {dose} of {wanted}.").format(
        **values,
        letter=curves.curves[0].letter,
        dose=dose_text(row.dose),
        wanted=dose_text(curves.wanted),
    )


def explanation(figures: Figures, method: Method) -> str:
    """How the dose is computed, with its sources, and what it leaves open."""
    if method is Method.COLD:
        return _(
            "A dose of 1 is {hours:g} hours at {celsius:g} °C, or shorter where it is colder"
            " (Olson et al. 2013); nothing counts above {floor:g} °C. Only readings at the"
            " core of what is frozen tell."
        ).format(
            hours=figures.cold_kill_hours.value,
            celsius=figures.cold_at_celsius.value,
            floor=figures.cold_floor_celsius.value,
        )
    return _(
        "A dose of 1 is {minutes:g} minutes at {celsius:g} °C for eggs, ten times shorter for each"
        " {tenfold:g} °C more (Kells and Goblirsch 2011; Pereira et al. 2009); {wanted:g} is asked,"
        " since probes lag (an assumption). Nothing counts below {floor:g} °C, nor more"
        " beyond {cap:g} °C."
    ).format(
        minutes=figures.egg_kill_minutes.value,
        celsius=figures.egg_at_celsius.value,
        tenfold=figures.egg_tenfold_celsius.value,
        wanted=figures.heat_dose_wanted.value,
        floor=figures.egg_floor_celsius.value,
        cap=figures.heat_cap_celsius.value,
    )
