"""Counted sentences: one takes the singular, none and two the plural.

That is English as it is taught; common practice, no source.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterator

import pytest

from hotelwatch.core.cases.costs import BlockCost
from hotelwatch.core.cases.ring_growth import FloorOffer
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.planning.late_before import LateBefore
from hotelwatch.core.rounds.backlog import Backlog as Pace
from hotelwatch.core.rounds.plan import Proof
from hotelwatch.core.whole.ages import Age
from hotelwatch.core.whole.case_weeks import CaseWeek
from hotelwatch.core.whole.weeks import Week, Work
from hotelwatch.wording import (
    backlog,
    backups,
    bed_drawing,
    book_check,
    cycle_change,
    dates,
    day_picture,
    desk,
    language,
    late_before,
    lethal,
    over_time,
    plan_calendar,
    profiles,
    proofs,
    ring,
    shortfalls,
    story,
    survey,
    trials,
    what_if,
)
from tests.build import day
from tests.sources import MODULES, nodes_of

MANY = (
    "rooms|beds|undersides|days|minutes|hours|people|entries|checks|cases|nights|rows|weeks|months"
    "|years|sheets|teams|insects|bugs|finds|visits|bookings|photos|groups|cells|places|facts"
    "|clauses|trials|stays|looks|times|backups|room-nights|neighbours|dummies|choices|rounds"
)
ONE = "|".join(
    {"people": "person", "entries": "entry", "dummies": "dummy"}.get(word, word.removesuffix("s"))
    for word in MANY.split("|")
)
PLURAL = re.compile(rf"(?<![\d.,])1 (?:[a-z]+ )?(?:{MANY}|were|are|have|fall|come|lie)\b")
SINGULAR = re.compile(rf"(?<![\d.,])[02] (?:[a-z]+ )?(?:{ONE}|was|is|has)\b(?! bugs)")


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def work(n: int) -> Work:
    return Work(n, 90 * n, frozenset())


def week(n: int, *, is_ahead: bool) -> Week:
    return Week(day(0), work(n), work(n), work(n), work(n), 600, is_ahead)


def case_week(n: int) -> CaseWeek:
    cases = tuple(f"2026-{number:03}" for number in range(n))
    return CaseWeek(day(0), cases, cases, cases, frozenset())


def cost(n: int, *, is_known: bool) -> BlockCost:
    return BlockCost(n, n, n if is_known else None, None, n, rooms_unknown=n)


def late(n: int, *, is_enough: bool) -> LateBefore:
    rooms = tuple(RoomNo(str(101 + number)) for number in range(n))
    return LateBefore(n, n, 20 * n, day(0), day(2) if is_enough else None, 40, None, rooms)


def price(n: int, *, saves: bool) -> str:
    dear, cheap = Proof(n, 0, 60 * n, 0, 0), Proof(0, 0, 0, 0, 0)
    with_hand, without = (cheap, dear) if saves else (dear, cheap)
    return proofs.hand_price_sentence(n, with_hand=with_hand, without=without)


SAID: dict[str, Callable[[int], object]] = {
    "days": dates.days_text,
    "teams more": what_if.teams_text,
    "teams fewer": lambda n: what_if.teams_text(-n),
    "rooms unsold": what_if.kept_rooms_text,
    "late days as it is": lambda n: what_if.outcome_sentence("", 0, as_is=n, last=day(3)),
    "late days tried in vain": lambda n: what_if.outcome_sentence("x", n, as_is=n, last=day(3)),
    "late days tried": lambda n: what_if.outcome_sentence("1 team", 5, as_is=n, last=day(3)),
    "late days left": what_if.openings_sentence,
    "late days planned": proofs.bed_days_text,
    "visits moved": lambda n: " ".join(proofs.proof_sentences(Proof(n, 0, 0, n, n))),
    "hand costs": lambda n: price(n, saves=False),
    "hand saves": lambda n: price(n, saves=True),
    "pace": lambda n: backlog.backlog_sentence(Pace(n, n, n, 28, 60, day(9), None)),
    "late, too few minutes": lambda n: late_before.late_before_sentence(late(n, is_enough=False)),
    "late, guests": lambda n: late_before.late_before_sentence(late(n, is_enough=True)),
    "few days by name": lambda n: shortfalls.days_text([day(i) for i in range(n)]),
    "backups gone": backups.pruned_text,
    "backups sound": lambda n: backups.checked_text(n, 0),
    "backups not sound": lambda n: backups.checked_text(5, n),
    "people lift": lambda n: bed_drawing.lift_text(people=n, move="stand_base", caution=""),
    "cells": lambda n: book_check.verdict(count=0, cells=n, is_same_file=False, has_faults=False),
    "places differ": lambda n: book_check.verdict(
        count=n, cells=9, is_same_file=False, has_faults=False
    ),
    "own cycles": lambda n: cycle_change.choose_question(30, 91, n),
    "closed": lambda n: day_picture.closed_words([None] * n),
    "no room left": desk.without_room_text,
    "blocks": lambda n: desk.total_text(cost(n, is_known=True)),
    "blocks, end unknown": lambda n: desk.total_text(cost(n, is_known=False)),
    "minutes": lethal.span_text,
    "week over": lambda n: over_time.week_said(week(n, is_ahead=False)),
    "week ahead": lambda n: over_time.week_said(week(n, is_ahead=True)),
    "weeks": lambda n: over_time.weeks_told([week(n, is_ahead=False)] * (n + 1)),
    "ages, never": lambda n: over_time.age_said(Age(None, False, n, frozenset())),
    "ages, overdue": lambda n: over_time.age_said(Age(12, False, n, frozenset())),
    "ages": lambda n: over_time.ages_told([Age(3, False, n, frozenset())]),
    "case week": lambda n: over_time.case_week_said(case_week(n)),
    "case weeks": lambda n: over_time.cases_told([case_week(n)] * n),
    "corridor": lambda n: plan_calendar.corridor_count_text("4", "east", n),
    "years kept": lambda n: profiles.years_kept(str(n)),
    "floor": lambda n: ring.offer_sentence(FloorOffer("3", n, 9, ())),
    "room story": lambda n: story.case_heading(tuple("101" for _ in range(n)), "2026-001"),
    "insects": survey.insects_text,
    "cannot": lambda n: survey.cannot_sentence(n, 0.95),
    "rounds": survey.rounds_sentence,
    "dummies": lambda n: trials.found_text(0, n, 0.1, 0.9),
}


@pytest.mark.parametrize("which", SAID)
def test_none_one_and_two_are_said_as_english_says_them(which):
    for n in (0, 1, 2):
        said = str(SAID[which](n))
        wrong = PLURAL.search(said) or SINGULAR.search(said)
        assert wrong is None, said


def test_the_rule_finds_what_is_said_wrongly():
    for wrong in ("1 are overdue", "1 rooms", "1 late days", "1 fall due later", "0 of 1 rooms"):
        assert PLURAL.search(wrong), wrong
    for wrong in ("2 room", "0 bed", "2 is late"):
        assert SINGULAR.search(wrong), wrong
    for right in ("21 rooms", "1.5 days", "1 room is", "0 rooms", "2 are late", "1 in 20 rooms"):
        assert not PLURAL.search(right), right
        assert not SINGULAR.search(right), right


COUNTS = "n|count|counted|beds|overdue|never|due|done|planned|late|infested|all|total|bases"
BARE = re.compile(rf"\{{(?:{COUNTS})\}} (?:[a-z]+ )?(?:{MANY}|were|are|have|fall|lie|wait)\b")
ALWAYS_SEVERAL = (
    # Rooms are told together only if there are two of them.
    "{n} rooms can't be entered by their due day",
    "{n} rooms can be entered by their due day, but only",
    "{n} rooms could be looked at by their due day",
    "{n} rooms: no team with enough people",
    # Fewer than four days are named one by one.
    "{n} days from {first} to {last}",
    # A tenth of them is named, so there are ten.
    "{n} are late. Each of the latest tenth",
    # A figure that no hotel may set to one.
    "No figure of their own before {n} trials each",
    # Spans of days, told with their unit.
    "All backups of {all} are kept",
    # Visits and shifts take more than a minute.
    "{items} = {total} minutes",
)


def bare_counts() -> Iterator[str]:
    """Sentences in which a number stands before a plural, with no singular beside them."""
    for path in MODULES:
        for node in nodes_of(path):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
                continue
            texts = [one.value for one in node.args if isinstance(one, ast.Constant)]
            if node.func.id in ("_", "m", "marked", "ngettext") and texts:
                said = texts[0]
                if isinstance(said, str) and BARE.search(said):
                    yield f"{path.name}:{node.lineno}: {said}"


def test_no_number_stands_before_a_plural_that_has_no_singular():
    found = [said for said in bare_counts() if not any(one in said for one in ALWAYS_SEVERAL)]
    assert not found, "\n".join(found)
