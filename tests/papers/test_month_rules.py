"""The book's pages about local rules: read by another library, recalculated by LibreOffice."""

from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from hotelwatch.core.case_facts import (
    CaseJudged,
    Outcome,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.local_rules.rows import ItemState
from hotelwatch.core.month.figures import figures
from hotelwatch.core.rule_facts import Asks, RulesCompared
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.papers.listings import Book, Formula, Listing, Sheet
from hotelwatch.papers.month_book import frame_of
from hotelwatch.papers.month_case_tables import quarantines
from hotelwatch.papers.month_rules import asks, sheets
from hotelwatch.papers.target import write_safely
from hotelwatch.wording import language
from hotelwatch.wording.local_rules import no_advice
from tests.build import day, house, moment
from tests.core.rule_clauses import clause, deadline, own_rules
from tests.papers.office import converted, needs_office

ONE = CaseNo("2026-001")
ROOM = RoomNo("101")


@pytest.fixture(autouse=True)
def _english():
    language.use("en")


def january(*more):
    """One case: told to nobody, closed, treated by a firm without a report."""
    clauses = (
        deadline("tell_authority", 1, "business_days", "sighting"),
        clause(Asks.CLOSE, "close", says="=close"),
        clause(Asks.RECORD, "record", records=("firm", "technician", "report")),
        clause(Asks.KEEP, "keep", years=3),
        clause(Asks.OTHER, "placard"),
    )
    built = house().room(ROOM).bed("A").record(*own_rules(*clauses, place="Here"))
    built.record(Sighted(ONE, ROOM, "", "", Sign.LIVE_INSECT, 1, "ana", moment(3)))
    built.record(QuarantinePlaced(ROOM, ONE, moment(3), "sighting"))
    built.record(CaseJudged(ONE, Outcome.CONFIRMED, "Dr. Vey", "entomologist", day(3)))
    built.record(TreatmentRecorded(ONE, ROOM, day(5), "heat", "firm", "L-1", moment(5, 18)))
    built.record(RulesCompared("ours", "close", "Maria Ode", day(1)), *more)
    return figures(built.house, "2026-01", now=moment(50))


def book_of(found) -> Book:
    other = Sheet("Quarantines", (quarantines(found),))
    frame = frame_of(found.account, "January 2026", program="test")
    return Book(frame, found.account.made_at, (other, *sheets(found, (other,))))


def rows_of(path: Path, title: str) -> list[dict]:
    sheet = openpyxl.load_workbook(path, data_only=True)[title]
    rows = [list(row) for row in sheet.iter_rows(values_only=True)]
    top = next(n for n, row in enumerate(rows) if row[0] == "Clause")
    named = [dict(zip(rows[top], row, strict=True)) for row in rows[top + 1 :]]
    return [row for row in named if row["Clause"]]


def test_each_clause_says_whether_it_is_met_where_and_what_it_rests_on(tmp_path):
    write_safely(book_of(january()), tmp_path / "b.xlsx")
    rows = {row["Clause"]: row for row in rows_of(tmp_path / "b.xlsx", "Local rules")}
    assert {key: row["Met?"] for key, row in rows.items()} == {
        "tell_authority": "NOT met",
        "close": "Met",
        "record": "NOT met",
        "keep": "Met",
        "placard": "Look yourself",
    }
    close = rows["close"]
    assert close["What it asks"] == "=close"
    assert "sheet “Quarantines”, table quarantines" in close["Where it shows"]
    assert close["Compared with the law in force"] == "by Maria Ode on Tue 6 Jan 2026"
    assert rows["record"]["Compared with the law in force"].startswith("NOBODY")
    assert rows["placard"]["Where it shows"] is None
    things = rows_of(tmp_path / "b.xlsx", "Local rules, each thing")
    lacking = [row for row in things if row["How it went"] == "MISSING"]
    missing = [(row["What"], row["Case"], row["Room"]) for row in lacking]
    assert missing == [
        ("Tell the authority", ONE, "101"),
        ("Technician", ONE, "101"),
        ("The firm's report kept with the case", ONE, "101"),
    ]


def test_the_page_says_that_it_is_no_advice_and_how_many_nobody_compared():
    first, *_ = sheets(january(), ())
    assert no_advice() in first.notes
    assert "never legal advice" in no_advice()
    assert any(note.startswith("4 clauses were not compared") for note in first.notes)


def test_the_last_page_says_how_each_clause_was_read_and_judged():
    *_, last = sheets(january(), ())
    table = last.parts[0]
    assert isinstance(table, Listing)
    first = table.rows[0]
    assert first[:2] == ("tell_authority", "Test code, 1")
    assert first[2] == "Tell the authority: within 1 business day, from the first sign; to: office"
    assert first[3] == "Read in the text (a test); the day was not noted"
    assert no_advice() in last.notes


def test_the_first_page_asks_for_what_is_not_met_and_not_compared():
    missed, stale = asks(january().local_rules)
    assert missed.startswith("2 clauses of local rules are NOT met")
    assert stale.startswith("4 clauses were not compared")
    nothing = figures(house().room(ROOM).bed("A").house, "2026-01", now=moment(50))
    assert list(asks(nothing.local_rules)) == []


def test_who_compared_is_named_as_the_hotel_chose():
    first, *_ = sheets(january(RuleChosen("names_outside", "initials")), ())
    table = first.parts[0]
    assert isinstance(table, Listing)
    assert "by M. O. on Tue 6 Jan 2026" in table.rows[1]


def test_the_second_page_holds_each_thing_that_was_judged():
    found = january()
    _, second, _ = sheets(found, ())
    table = second.parts[0]
    assert isinstance(table, Listing)
    judged = found.local_rules.judgements
    assert len(table.rows) == sum(len(one.items) for one in judged) == 9


# LibreOffice computes the formulas anew; the program counted by itself.
@needs_office
def test_the_numbers_of_clauses_are_what_the_second_page_counts(tmp_path):
    found = january()
    write_safely(book_of(found), tmp_path / "b.xlsx")
    rows = rows_of(converted(tmp_path / "b.xlsx"), "Local rules")
    for row, one in zip(rows, found.local_rules.judgements, strict=True):
        assert row["Fell under it"] == len(one.items)
        assert row["As it asks"] == one.count(ItemState.DONE)
        assert row["Late or missing"] == len(one.faults)
        assert row["Still open"] == one.count(ItemState.AHEAD)
    table = sheets(found, ())[0].parts[0]
    formulas = [value for row in table.rows for value in row if isinstance(value, Formula)]
    assert len(formulas) == 4 * len(rows)
