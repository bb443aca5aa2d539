"""Local rules in words: every code has its sentence, and none says more than the record."""

from __future__ import annotations

from datetime import UTC, date, datetime

import pytest

from hotelwatch.core.local_rules.duties import DUTIES
from hotelwatch.core.local_rules.recording import KEPT, RECORDS
from hotelwatch.core.local_rules.rows import Item, ItemState, Judgement, RulesJudged, Verdict
from hotelwatch.core.profile import Releaser
from hotelwatch.core.rule_facts import Asks, HowRead
from hotelwatch.wording import language
from hotelwatch.wording.local_rules import (
    compared_text,
    fault_sentence,
    how_judged,
    item_text,
    judged_sentence,
    reading_text,
    rules_sentence,
    terms_text,
)
from tests.core.rule_clauses import clause, deadline

WHATS = (
    *DUTIES,
    *RECORDS,
    *KEPT,
    *(f"word_{whose}" for whose in Releaser),
    *("closed", "not_let", "eliminated", "looked_before", "licence", "licence_holds", "not_gone"),
)


@pytest.fixture(autouse=True)
def _english():
    language.use("en")


@pytest.mark.parametrize("what", WHATS)
def test_each_thing_has_its_words(what):
    said = item_text(Item(what, "", "", ItemState.MISSING))
    assert said != what
    assert "_" not in said


@pytest.mark.parametrize("asks", Asks)
def test_each_kind_of_clause_says_by_what_it_is_judged(asks):
    assert how_judged(asks).endswith(".")


def test_a_fault_names_case_room_and_day():
    late = Item(
        "tell_authority",
        "2025-001",
        "305",
        ItemState.LATE,
        datetime(2025, 5, 23, 16, tzinfo=UTC),
        datetime(2025, 5, 27, 23, 59, tzinfo=UTC),
        datetime(2025, 5, 28, 8, tzinfo=UTC),
    )
    assert fault_sentence(late, UTC) == (
        "case 2025-001, room 305: Tell the authority: late"
        " (due Tue 27 May 2025, 23:59 UTC, done Wed 28 May 2025, 08:00 UTC)"
    )
    let = Item("not_let", "", "305", ItemState.MISSING, late.since, done=date(2025, 5, 24))
    assert fault_sentence(let, UTC) == "room 305: let while closed, on Sat 24 May 2025"
    gone = Item("not_gone", "", "", ItemState.MISSING, done=date(2025, 5, 24))
    assert "Sat 24 May 2025" in fault_sentence(gone, UTC)
    kept = Item("keeps_photos", "", "", ItemState.MISSING)
    assert fault_sentence(kept, UTC) == "Photos: missing"


def test_a_clause_tells_its_terms_and_how_it_was_read():
    tell = deadline("tell_authority", 1, "business_days", "sighting")
    assert terms_text(tell) == (
        "Tell the authority: within 1 business day, from the first sign; to: office"
    )
    assert terms_text(clause(Asks.KEEP, years=3)) == "3 years, from when, is not said"
    read = clause(Asks.OTHER, how_read=HowRead.SECOND_HAND, read_on=date(2026, 3, 9))
    assert reading_text(read) == "Read second-hand (a test) on Mon 9 Mar 2026"


def test_nobodys_and_an_old_comparison_are_told_as_such():
    assert compared_text("", None, is_stale=True).startswith("NOBODY")
    assert "too long ago" in compared_text("M. Ode", date(2025, 1, 1), is_stale=True)
    assert (
        compared_text("M. Ode", date(2025, 1, 1), is_stale=False) == "by M. Ode on Wed 1 Jan 2025"
    )


def test_a_clause_under_which_nothing_fell_is_called_neither_met_nor_missed():
    one = Judgement(clause(Asks.CLOSE), Verdict.NOT_ARISEN, (), ())
    assert judged_sentence(one) == "Nothing in these days fell under it."
    whole = rules_sentence(RulesJudged("ours", "Ours", "Here", "", "", (one,)))
    assert "1 clause. Met: 0; NOT met: 0; nothing fell under it: 1;" in whole
    assert "lately: 1" in whole
