"""Sets of local rules: the hotel's own from a file, the one in force, who compared it."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from datetime import date, datetime
from hashlib import sha256
from pathlib import Path

from hotelwatch import paths
from hotelwatch.actions.open_hotel import OpenHotel, whole_house
from hotelwatch.core.choice_facts import ProfileChosen
from hotelwatch.core.facts import Fact
from hotelwatch.core.house import House
from hotelwatch.core.local_rules.judging import judged
from hotelwatch.core.local_rules.rows import RulesJudged
from hotelwatch.core.month.figures import period_of
from hotelwatch.core.parameters import Rules
from hotelwatch.core.problems import InputRefused, Problem, Refusal
from hotelwatch.core.profile import Profile
from hotelwatch.core.records import Changes
from hotelwatch.core.rule_facts import RulesCompared, RuleSetKept
from hotelwatch.core.rule_sets import facts_of
from hotelwatch.intake.rule_sets_file import RulesReading, from_file, read_rule_sets

LARGEST_BYTES = 1_000_000
"""More than all that a place's rules could say; no figure of the trade."""
TEMPLATE = "rules_template.toml"


def choose_profile(
    hotel: OpenHotel, profile: str, *, compared_by: str = "", compared_on: date | None = None
) -> Changes:
    """Work under a set of local rules, and keep all of it in the file.

    Where somebody compared it with the law in force, that is written down too; without a
    day, today. Refusal("unknown_profile"), ("day_to_come").
    """
    known = hotel.house.rule_sets
    if profile not in known:
        raise Refusal("unknown_profile", profile=profile, among=", ".join(known))
    day = _day(hotel, compared_on)

    def decide(house: House) -> Sequence[Fact]:
        facts: list[Fact] = [*_kept(house, profile), ProfileChosen(profile)]
        if compared_by.strip():
            facts.append(RulesCompared(profile, "", compared_by.strip(), day))
        return facts

    return hotel.record(decide, action="choose_profile")


def compare_rules(hotel: OpenHotel, compared: RulesCompared) -> Changes:
    """Say who compared a set, or one clause of it, with the law in force, and when.

    Refusal("unknown_profile"), ("unknown_clause"), ("comparison_needs_name"), ("day_to_come").
    """
    known = hotel.house.rule_sets
    if compared.rules not in known:
        raise Refusal("unknown_profile", profile=compared.rules, among=", ".join(known))
    rules = known[compared.rules]
    if compared.clause and rules.clause(compared.clause) is None:
        among = ", ".join(clause.clause for clause in rules.clauses)
        raise Refusal("unknown_clause", clause=compared.clause, among=among)
    if not compared.by.strip():
        raise Refusal("comparison_needs_name")
    _day(hotel, compared.on)

    def decide(house: House) -> Sequence[Fact]:
        return [*_kept(house, compared.rules), compared]

    return hotel.record(decide, action="compare_rules")


def look_into_rules(hotel: OpenHotel, source: Path) -> RulesReading:
    """What a file of local rules holds, and what is wrong with it; nothing is written down.

    Refusal("no_such_file"), ("rules_file_too_large"), ("rules_file_not_readable").
    """
    if not source.is_file():
        raise Refusal("no_such_file", file=str(source))
    try:
        if source.stat().st_size > LARGEST_BYTES:
            most = str(LARGEST_BYTES // 1000)
            raise Refusal("rules_file_too_large", file=source.name, most=most)
        content = source.read_bytes()
    except OSError as error:
        raise Refusal("rules_file_not_readable", file=source.name, why=str(error)) from error
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        problem = Problem(source.name, 0, "", "rules_not_utf8")
        return RulesReading((), (problem,))
    reading = read_rule_sets(text, source.name)
    digest = sha256(content).hexdigest()
    taken = [one.key for one in reading.sets if one.key in hotel.house.shipped.profiles]
    problems = [
        Problem(f"{source.name}, [{key}]", 0, "", "rules_key_shipped", {"key": key})
        for key in taken
    ]
    own = (from_file(one, file_name=source.name, sha256=digest) for one in reading.sets)
    return RulesReading(tuple(own), (*reading.problems, *problems))


def load_rules(hotel: OpenHotel, source: Path) -> RulesReading:
    """Keep the sets of a file in the hotel's: whole, so that the file may go.

    InputRefused with every problem; Refusal("rules_kept_already"), and those of
    ``look_into_rules``.
    """
    reading = look_into_rules(hotel, source)
    if reading.is_refused:
        raise InputRefused(list(reading.problems))

    def decide(house: House) -> Sequence[Fact]:
        new = [one for one in reading.sets if house.rule_sets.get(one.key) != one]
        if not new:
            raise Refusal("rules_kept_already", file=source.name)
        return [fact for one in new for fact in facts_of(one)]

    hotel.record(decide, action="load_rules")
    return reading


def write_template(target: Path) -> Path:
    """Write the file that explains each field of a set. Refusal("file_exists")."""
    if target.exists():
        raise Refusal("file_exists", file=target.name)
    shutil.copyfile(paths.resources() / TEMPLATE, target)
    return target


def judged_rules(
    hotel_file: Path, rules: Rules, month: str, now: datetime, profile: str = ""
) -> RulesJudged:
    """A set of local rules judged by a month's record, read through a connection of its own.

    By default the set that was in force at the month's end. Refusals as those of
    core.month.figures.figures.
    """
    house = whole_house(hotel_file, rules)
    known, period = period_of(house, month, now)
    return judged(known, period, house.rule_sets.get(profile))


def _kept(house: House, key: str) -> Sequence[Fact]:
    """What has to be written down so that the file keeps a set in its present words."""
    shipped: Profile | None = house.shipped.profiles.get(key)
    now = shipped or house.rule_sets[key]
    is_kept = any(fact.rules == key for fact in house.all_of(RuleSetKept))
    return () if is_kept and house.rule_sets[key] == now else facts_of(now)


def _day(hotel: OpenHotel, day: date | None) -> date:
    if day is not None and day > hotel.today():
        raise Refusal("day_to_come", day=day.isoformat())
    return day or hotel.today()
