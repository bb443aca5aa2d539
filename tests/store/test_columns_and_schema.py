from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import dataclass, fields
from datetime import date, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.case_facts import CheckAsked
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import (
    FloorPlaced,
    MonthClosed,
    RoundPublished,
    TeamDescribed,
    WingPlaced,
)
from hotelwatch.store.schema import columns_of, fact_tables, objects, table_name
from tests.build import day
from tests.store.histories import facts_of


def test_each_kind_of_fact_has_a_table_with_its_fields(desk):
    desk.journal.close()
    with closing(sqlite3.connect(desk.journal.path)) as plain:
        for kind in FACT_KINDS:
            rows = plain.execute(f"PRAGMA table_info({table_name(kind)})").fetchall()
            assert [row[1] for row in rows] == ["entry", "line", *(f.name for f in fields(kind))]
            unsaid = {f.name for f in fields(kind) if "None" in str(f.type)}
            assert {row[1] for row in rows if not row[3]} == unsaid
        strict = dict(plain.execute("SELECT name, strict FROM pragma_table_list"))
    assert all(strict[table_name(kind)] == 1 for kind in FACT_KINDS)
    assert strict["entry"] == strict["stay"] == 1


def test_a_table_is_named_like_its_kind_in_snake_case():
    assert table_name(MonthClosed) == "month_closed"
    assert {"bed_checked", "bed_checked_now", "entry_no_update"} <= objects().keys()


@given(st.data())
def test_what_goes_in_comes_out(data):
    kind = data.draw(st.sampled_from(FACT_KINDS))
    facts = data.draw(st.lists(facts_of(kind), min_size=1, max_size=4))
    table = fact_tables()[kind]
    rows = [tuple(table.encode(fact).values()) for fact in facts]
    assert list(table.decode(zip(*rows, strict=True))) == facts


@pytest.mark.parametrize(
    "fact",
    [
        FloorPlaced("1", 1.0),
        FloorPlaced("1", True),
        FloorPlaced(1, 1),
        WingPlaced("A", float("nan"), 0.0, 0.0),
        WingPlaced("A", float("inf"), 0.0, 0.0),
        RoundPublished(datetime(2026, 1, 5), day(1)),
        RoundPublished("2026-01-05", day(1)),
        TeamDescribed("a", 2, 60, works_on=["mon"]),
        TeamDescribed("a", 2, 60, works_on=("mon\ntue",)),
        TeamDescribed("a", 2, 60, works_on=("",)),
        TeamDescribed("a", 2, 60, in_use=1),
        CheckAsked("2026-001", "101", (), datetime(2026, 1, 5)),
    ],
)
def test_what_would_not_come_back_the_same_is_refused(fact):
    with pytest.raises((TypeError, ValueError)):
        fact_tables()[type(fact)].encode(fact)


def test_a_type_without_a_form_is_refused():
    @dataclass
    class Odd:
        what: bytes

    Odd.__annotations__["what"] = bytes
    with pytest.raises(TypeError, match="no column"):
        columns_of(Odd)


def test_a_moment_is_kept_in_utc_and_a_day_as_iso_8601_has_it():
    # ISO 8601: calendar date YYYY-MM-DD, Z for UTC.
    asked = CheckAsked("2026-001", "101", (), datetime.fromisoformat("2026-03-29T03:30:00+02:00"))
    assert fact_tables()[CheckAsked].encode(asked)["by_at"] == "2026-03-29T01:30:00Z"
    published = RoundPublished(date(2026, 1, 5), date(2026, 1, 31))
    assert fact_tables()[RoundPublished].encode(published) == {
        "from_on": "2026-01-05",
        "until_on": "2026-01-31",
        "is_whole": 0,
    }


def all_tables():
    return ["entry", *(table_name(kind) for kind in FACT_KINDS)]


@pytest.mark.parametrize("table", ["entry", "floor_placed"])
@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE {table} SET {column} = {column}",
        "DELETE FROM {table}",
        "REPLACE INTO {table} SELECT * FROM {table}",
        "INSERT OR REPLACE INTO {table} SELECT * FROM {table}",
        "INSERT INTO {table} SELECT * FROM {table} WHERE true ON CONFLICT DO UPDATE SET"
        " {column} = {column}",
    ],
)
def test_the_file_itself_refuses_change_whatever_program_opens_it(desk, table, sql):
    desk.write(FloorPlaced("1", 1))
    column = "note" if table == "entry" else "level"
    with closing(sqlite3.connect(desk.journal.path)) as plain:
        before = plain.execute(f"SELECT * FROM {table}").fetchall()
        with pytest.raises(sqlite3.IntegrityError, match="record a"):
            plain.execute(sql.format(table=table, column=column))
        assert plain.execute(f"SELECT * FROM {table}").fetchall() == before


def test_every_table_of_the_record_has_its_guards(desk):
    with closing(sqlite3.connect(desk.journal.path)) as plain:
        rows = plain.execute("SELECT tbl_name, sql FROM sqlite_schema WHERE type = 'trigger'")
        guards = list(rows)
    for table in all_tables():
        for verb in ("BEFORE UPDATE", "BEFORE DELETE", "BEFORE INSERT"):
            assert any(name == table and verb in sql for name, sql in guards), (table, verb)


def test_a_fact_can_not_be_slipped_into_an_older_entry(desk):
    desk.write(FloorPlaced("1", 1))
    desk.write(FloorPlaced("2", 2))
    with closing(sqlite3.connect(desk.journal.path)) as plain:
        with pytest.raises(sqlite3.IntegrityError, match="added at the end"):
            plain.execute("INSERT INTO floor_placed VALUES (1, 2, '3', 3)")
        with pytest.raises(sqlite3.IntegrityError, match="added at the end"):
            plain.execute(
                "INSERT INTO entry VALUES (7, '2026-01-05T09:00:00Z', 'x', 'x', '', NULL, 'x', ?)",
                ("0" * 64,),
            )


def test_the_columns_check_what_they_hold(desk):
    desk.write(FloorPlaced("1", 1))
    bad = [
        "INSERT INTO team_described VALUES (1, 2, 'a', 2, 60, '', 2, '', '', 0, '')",
        "INSERT INTO cycle_chosen VALUES (1, 2, 'galaxy', '', 90)",
        "INSERT INTO floor_placed VALUES (1, 2, '3', 'high')",
        "INSERT INTO floor_placed VALUES (1, 2, NULL, 3)",
    ]
    with closing(sqlite3.connect(desk.journal.path)) as plain:
        for sql in bad:
            with pytest.raises(sqlite3.IntegrityError):
                plain.execute(sql)


def test_the_views_leave_out_what_was_corrected(desk):
    desk.write(FloorPlaced("1", 1), FloorPlaced("2", 2))
    desk.write(FloorPlaced("3", 3))
    desk.write(FloorPlaced("1", 7), note="wrong level", corrects=1)
    with closing(sqlite3.connect(desk.journal.path)) as plain:
        rows = plain.execute("SELECT floor, level FROM floor_placed_now").fetchall()
    assert rows == [("3", 3), ("1", 7)]
