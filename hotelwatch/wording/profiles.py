"""A set of local rules in words: ring, hold, clocks, who releases, how long papers are kept."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.profile import Clock, Profile, Unit
from hotelwatch.wording.language import _, join, ngettext
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.names import label

DUTIES = {
    "answer_guest": m("Answer the guest who told something"),
    "check_neighbours": m("Look at the neighbours"),
    "judge_specimen": m("Have a specimen judged"),
    "treat": m("Have the room treated"),
    "tell_authority": m("Tell the authority"),
    "evaluate_treatment": m("Look how the treatment went"),
    "close_watch": m("End the watch"),
}
RULES = {
    "ring_kinds": m("Which neighbours are looked at"),
    "ring_radius": m("How many rooms each way"),
    "hold": m("What happens to neighbours meanwhile"),
    "release_by": m("Whose word gives a confirmed room back"),
    "species": m("Which species"),
    "clean_kinds": m("Which checks count after a treatment"),
    "full_check": m("What a full check looks at"),
    "sign_off": m("Who signs that a treated room meets its conditions"),
    "rounds_by": m("Which rooms rounds put first where minutes are short"),
    "back_up": m("When backups are made by themselves"),
    "names_outside": m("How staff are named on what leaves the hotel"),
    "keeps_photos": m("How long photos are kept"),
    "keeps_papers": m("How long papers and logs are kept"),
    "keeps_names": m("How long names of staff are kept"),
    "keeps_notes": m("How long notes are kept"),
}
SPECIES = {
    "common": m("Common bed bug (Cimex lectularius)"),
    "tropical": m("Tropical bed bug (Cimex hemipterus)"),
}

RELEASE = {
    "clean_kinds": {
        "clearance": m("Clearance checks only"),
        "deep_too": m("Deep and asked checks too"),
    },
    "full_check": {
        "looked_at": m("Every place, the dust cover left shut"),
        "cover_opened": m("Every place, the dust cover opened"),
    },
    "sign_off": {
        "competent": m("A person whose competence is named"),
        "named": m("Any named person"),
    },
    "rounds_by": {
        "cycle": m("The cycle alone"),
        "odds": m("The cycle, and where a look saves most (assumed odds)"),
    },
    "back_up": {
        "closing_and_daily": m("On closing, and daily while open"),
        "closing": m("On closing"),
        "daily": m("Daily while open"),
        "never": m("Never"),
    },
    "names_outside": {
        "full": m("By name"),
        "initials": m("By initials"),
    },
}


def rule_name(rule: str) -> str:
    """What a rule is about."""
    return _(RULES[rule]) if rule in RULES else label(rule)


def choice_name(rule: str, choice: str) -> str:
    """A choice for a rule in words."""
    if rule == "species":
        return _(SPECIES[choice])
    if rule in RELEASE:
        return _(RELEASE[rule][choice])
    if rule.startswith("keeps_"):
        return years_kept(choice)
    if rule == "ring_radius":
        return ngettext("{n} room", "{n} rooms", int(choice)).format(n=choice)
    return label(choice)


def years_kept(choice: str) -> str:
    """How long something is kept: a number of years, or "always"."""
    if choice == "always":
        return _("Always")
    return ngettext("{n} year", "{n} years", int(choice)).format(n=choice)


def rule_lines(profile: Profile, choices: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    """Each rule in force with its heading; the source last."""
    yield _("Local rules"), profile.name
    if profile.place:
        yield _("Place"), profile.place
    kinds = [label(Kind(kind)) for kind in profile.ring_kinds if kind in set(Kind)]
    yield rule_name("ring_kinds"), join(kinds)
    yield rule_name("ring_radius"), choice_name("ring_radius", str(profile.ring_radius))
    yield rule_name("hold"), label(profile.hold)
    yield rule_name("release_by"), label(profile.release_by)
    yield rule_name("species"), choice_name("species", choices.get("species", "common"))
    for rule, known in RELEASE.items():
        yield rule_name(rule), choice_name(rule, choices.get(rule, next(iter(known))))
    if profile.confirming_signs:
        signs = join([label(sign) for sign in profile.confirming_signs])
        yield _("Signs that count as an infestation by themselves"), signs
    for clock in profile.clocks:
        yield _(DUTIES.get(clock.duty, clock.duty)), clock_text(clock)
    kept = ngettext("{n} year after closing", "{n} years after closing", profile.keeps_years)
    yield _("Papers are kept"), kept.format(n=profile.keeps_years)
    for rule in (rule for rule in choices if rule.startswith("keeps_")):
        yield rule_name(rule), choice_name(rule, choices[rule])
    if profile.authority:
        yield _("Authority"), profile.authority
    yield _("Source"), profile.source
    yield _("Note"), profile.note


def clock_text(clock: Clock) -> str:
    """By when, from when on, and from where one knows."""
    return _("within {span}, {start}; {source}").format(
        span=span_text(clock), start=label(clock.starts).lower(), source=clock.source
    )


def span_text(clock: Clock) -> str:
    """How long a clock runs, with its kind of day."""
    n = clock.amount
    if clock.unit is Unit.HOURS:
        return ngettext("{n} hour", "{n} hours", n).format(n=n)
    if clock.unit is Unit.BUSINESS_DAYS:
        return ngettext("{n} business day", "{n} business days", n).format(n=n)
    if clock.unit is Unit.WORKING_DAYS:
        return ngettext("{n} working day", "{n} working days", n).format(n=n)
    return ngettext("{n} calendar day", "{n} calendar days", n).format(n=n)
