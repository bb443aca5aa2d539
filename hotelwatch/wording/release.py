"""Giving a room back in words: conditions, the eggs' days, the range, the watch.

A chance is named only of looks that miss, and no room is ever said to be free.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, tzinfo

from hotelwatch.core.cases.conditions import Condition
from hotelwatch.core.cases.release import Missing, ReleaseRange
from hotelwatch.core.cases.set_back import SetBack
from hotelwatch.core.checks.eggs import EggDates, EggsUnknown
from hotelwatch.core.checks.follow_ups import VisitDay
from hotelwatch.core.checks.missed import chance_all_missed
from hotelwatch.core.checks.monitors import Monitor
from hotelwatch.core.checks.watching import Gap, Watch
from hotelwatch.core.house import House
from hotelwatch.wording.dates import day_text, short_day_text
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label
from hotelwatch.wording.steps import missing_sentence

MET = {
    "judgement": m("A competent person has judged what was found."),
    "treatment": m("Licensed treatment of {room} is recorded."),
    "reentry": m("The firm's time of re-entry to {room} is past."),
    "clean_checks": m("{where}: {have} clean checks with the underside looked at."),
    "full_check": m("{room}: every bed was looked at whole, dust cover and corner caps too."),
    "after_hatch": m("{room}: every bed was looked at after the slowest egg has hatched."),
    "traps_read": m("{room}: somebody has looked into {monitors}. An empty trap is no proof."),
    "trap_readings": m("{room}: {have} empty readings of traps. An empty trap is no proof."),
    "release_word": m("The word that {room} may be let was given."),
}

UNKNOWN = {
    EggsUnknown.TOO_COLD: m("Colder than {from_celsius} °C nothing is known about the eggs."),
    EggsUnknown.TOO_WARM: m("Warmer than {until_celsius} °C nothing is known about the eggs."),
    EggsUnknown.SPECIES: m(
        "The tropical species' eggs are known at {low} to {high} °C only; nothing is said beyond."
    ),
}

BECAUSE = {
    "judgement": m("It waits for a competent person's judgement."),
    "treatment": m("It waits for a licensed treatment."),
    "treatment_after_find": m("It waits for another treatment, since something was found again."),
    "reentry": m("It waits for the firm's time of re-entry."),
    "clean_checks": m("It waits for clean checks."),
    "full_check": m("It waits for a check that looks at every place."),
    "after_hatch": m("It waits until the slowest egg has hatched and somebody has looked."),
    "eggs_not_known": m("No day can be named while the eggs' time is not known."),
    "traps_read": m("It waits for traps to be read."),
    "trap_readings": m("It waits for readings of traps."),
    "release_word": m("It waits for the word of who releases it."),
    "ready": m("Its conditions are met; it waits for a named person."),
}


TENTHS_BELOW = 10
"""Percentages below this are told with a tenth."""


def condition_sentence(condition: Condition, zone: tzinfo | str) -> str:
    """A condition with whether it is met, by whom and when."""
    if not condition.is_met:
        return missing_sentence(Missing(condition.code, condition.values), zone)
    values = condition.values
    said = _(MET[condition.code]).format(
        room=values.get("room", ""),
        where=values.get("bed") or values.get("room", ""),
        have=values.get("have", ""),
        monitors=join([str(one) for one in values.get("monitors", ())]),
    )
    if condition.met_on is None:
        return said
    if condition.by:
        return _("{said} {day}, {who}.").format(
            said=said, day=day_text(condition.met_on), who=join(list(condition.by))
        )
    return _("{said} {day}.").format(said=said, day=day_text(condition.met_on))


def range_lines(found: ReleaseRange) -> Iterator[tuple[str, str]]:
    """Earliest, expected, latest with what each supposes; then what it waits for."""
    if found.because == "ready":
        yield _("Now"), because_sentence(found.because)
        return
    none = _("nobody can say")

    def said(day: date | None) -> str:
        return none if day is None else day_text(day)

    yield (
        _("At the earliest"),
        _("{day}, if all is done as fast as the rules allow").format(day=said(found.earliest))
        if found.earliest
        else none,
    )
    yield (
        _("Expected"),
        _("{day}, with the usual waits (assumptions)").format(day=said(found.expected))
        if found.expected
        else none,
    )
    yield (
        _("At the latest"),
        _("{day}, with one more find, treated and followed up anew; it may be later still").format(
            day=said(found.latest)
        )
        if found.latest
        else none,
    )
    yield _("Why"), because_sentence(found.because)


def range_sentence(found: ReleaseRange) -> str:
    """The three days in a line; which of them suppose what stands in ``range_lines``."""
    none = _("nobody can say")
    if found.because == "ready":
        return because_sentence(found.because)
    return _("Earliest {earliest}, expected {expected}, latest {latest}. {because}").format(
        earliest=none if found.earliest is None else short_day_text(found.earliest),
        expected=none if found.expected is None else short_day_text(found.expected),
        latest=none if found.latest is None else short_day_text(found.latest),
        because=because_sentence(found.because),
    )


def not_confirmed_lines() -> Iterator[str]:
    """What is said of a case whose rooms were given back and that nobody confirmed."""
    yield _("Not confirmed. The rooms were given back; that is no proof that nothing is there.")
    yield _("A watch is advised: put a trap there, and look again before the cycle asks for it.")


def because_sentence(code: str) -> str:
    """What a release waits for."""
    return _(BECAUSE[code]) if code in BECAUSE else label(code)


def egg_lines(dates: EggDates, house: House) -> Iterator[str]:
    """By when the next look falls, and what fixed the two days."""
    times, figures = dates.times, house.rules.figures
    if times.why_not is not None:
        yield _(UNKNOWN[times.why_not]).format(
            from_celsius=f"{figures.known_from_celsius.value:g}",
            until_celsius=f"{figures.known_until_celsius.value:g}",
            low=f"{figures.tropical_celsius.low:g}",
            high=f"{figures.tropical_celsius.high:g}",
        )
        yield _("Measure the room, and set its temperature among the hotel's figures.")
        return
    told = {
        "treated": short_day_text(dates.from_on),
        "celsius": f"{times.celsius:g}",
        "slowest": f"{times.slowest_days:.0f}",
    }
    if dates.hatched_on is not None:
        yield _(
            "Not before {day}: from the treatment on {treated} the slowest egg takes about"
            " {slowest} days at {celsius} °C."
        ).format(day=day_text(dates.hatched_on), **told)
    if dates.lays_from is not None:
        yield _(
            "Not after {day}: from then on a female hatched since {treated} could lay, the"
            " fastest at {celsius} °C."
        ).format(day=day_text(dates.lays_from), **told)
    yield (
        _("Both days follow from figures quoted from memory of Omori 1941 and Usinger 1966.")
        if (times.species == "common")
        else _("Both days follow from figures quoted from memory of How and Lee 2010.")
    )


def visits_sentence(visits: Iterable[VisitDay]) -> str:
    """The usual follow-up visits, those too early for the eggs marked."""
    days = [
        _("{day} (too early to tell of the eggs)").format(day=short_day_text(visit.on))
        if visit.is_before_hatch
        else short_day_text(visit.on)
        for visit in visits
    ]
    return _("Usual follow-up visits (derived, an assumption): {days}.").format(days=join(days))


def why_not_empty(house: House) -> str:
    """Why a room that stands empty is no nearer to its release."""
    figures = house.rules.figures
    return _(
        "Leaving the room empty is no condition: starved adults lived {low} to {high} days on"
        " average (Polanco, Miller, Brewster 2011), and in a vacant home marked large nymphs,"
        " females and males were found {nymph}, {female} and {male} days after the host had left"
        " (Cooper, Wang, Singh 2015)."
    ).format(
        low=f"{figures.starved_adult_days.low:g}",
        high=f"{figures.starved_adult_days.high:g}",
        nymph=f"{figures.last_nymph_days.value:g}",
        female=f"{figures.last_female_days.value:g}",
        male=f"{figures.last_male_days.value:g}",
    )


def set_back_sentence(found: SetBack) -> str:
    """What a find set back, and to what."""
    told = {
        "found_on": day_text(found.found_on),
        "room": found.room,
        "before": _("nobody could say")
        if found.expected_before is None
        else day_text(found.expected_before),
        "after": _("nobody can say")
        if found.expected_after is None
        else day_text(found.expected_after),
    }
    if found.treat_again:
        said = _("The find of {found_on} in {room} wants another treatment; the count begins anew.")
    else:
        said = _(
            "The find of {found_on} in {room} set the clean checks back to none; they count"
            " again from {counts_from}."
        )
        told["counts_from"] = day_text(found.counts_from) if found.counts_from else ""
    moved = _("Expected release: {before} without it, {after} now.")
    return f"{said} {moved}".format(**told)


# --- watch --------------------------------------------------------------------------------


def watch_lines(watch: Watch) -> Iterator[str]:
    """How far the watch has come, until when it runs and what kept days from counting."""
    since = {
        "sign": m("Counted from the last sign, {day}."),
        "treatment": m("Counted from the last treatment, {day}."),
    }[watch.because]
    yield _(since).format(day=day_text(watch.since_on))
    yield ngettext(
        "{n} of {need} clean covered days.", "{n} of {need} clean covered days.", watch.counted
    ).format(n=watch.counted, need=watch.need)
    if watch.waiting:
        yield ngettext(
            "{n} more day counts once the traps were looked into and are empty.",
            "{n} more days count once the traps were looked into and are empty.",
            watch.waiting,
        ).format(n=watch.waiting)
    for gap in watch.gaps:
        yield gap_sentence(gap)
    if not watch.is_over:
        yield _("It ends on {day} if every day from now on is covered.").format(
            day=day_text(watch.ends_on)
        )
        if watch.is_covered and watch.covered_until is not None:
            yield _("Covered until {day} as things stand; a trap covers while it stands.").format(
                day=day_text(watch.covered_until)
            )
        else:
            yield _("Today is not covered: look at the rooms, or place a trap in each.")
    yield _("That is no proof that nothing is there.")


def gap_sentence(gap: Gap) -> str:
    """Days that do not count, and why."""
    return _("Not counted: {from_on} to {until_on}; no check, no trap in {rooms}.").format(
        from_on=short_day_text(gap.from_on),
        until_on=short_day_text(gap.until_on),
        rooms=join(list(gap.rooms)),
    )


def monitor_sentence(monitor: Monitor, today: date) -> str:
    """Where a trap stands, since when, and when somebody last looked into it."""
    last = monitor.readings[-1] if monitor.readings else None
    told = {
        "monitor": monitor.monitor,
        "room": monitor.room,
        "where": monitor.where or _("place not said"),
        "placed": short_day_text(monitor.placed_on),
    }
    if monitor.taken_on is not None and monitor.taken_on <= today:
        return _("{monitor}: stood in {room} ({where}) from {placed} to {taken}.").format(
            taken=short_day_text(monitor.taken_on), **told
        )
    if last is None:
        return _(
            "{monitor}: in {room} ({where}) since {placed}, nobody has looked into it."
        ).format(**told)
    return _(
        "{monitor}: in {room} ({where}) since {placed}; read {read} by {who}: {caught}."
    ).format(
        read=short_day_text(last.read_on),
        who=last.by,
        caught=_("empty, which is no proof")
        if not last.caught
        else ngettext("{n} caught", "{n} caught", last.caught).format(n=last.caught),
        **told,
    )


def missed_sentence(found: Iterable[Condition], house: House) -> str:
    """How likely the clean looks so far would all have missed something; empty without any."""
    counts = [int(c.values["have"]) for c in found if c.code == "clean_checks"]
    looks = min(counts, default=0)
    if not looks:
        return ""
    figures = house.rules.figures
    percent = 100 * chance_all_missed(looks, figures)
    said = ngettext(
        "Were something there, {looks} clean look would have missed it with a chance of"
        " {percent} %",
        "Were something there, {looks} clean looks would all have missed it with a chance of"
        " {percent} %",
        looks,
    ).format(looks=looks, percent=f"{percent:.1f}" if percent < TENTHS_BELOW else f"{percent:.0f}")
    return _(
        "{said}, if each finds {share:.0f} % as brief checks did in homes (Wang et al. 2016) and"
        " each misses by itself: both are assumptions for a hotel's rooms."
    ).format(said=said, share=100 * figures.visual_detection.value)
