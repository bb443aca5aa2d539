"""Books by command: of a month, a quarter, in another language, and checked again."""

from __future__ import annotations

from datetime import timedelta

import openpyxl
import pytest
import python_calamine


def written(hotel, period="2026-03", *more):
    path = hotel.folder / f"{period}.xlsx"
    hotel("month", hotel.file, period, "--to", path, *more)
    return path


def test_a_book_of_months_ago_is_checked_and_what_came_since_is_told(hotel):
    hotel("sighting", hotel.file, "101", "cast_skin", "--seen-by", "ana")
    book = written(hotel)
    hotel.now += timedelta(days=60)
    hotel("take-back", hotel.file, "3", "--reason", "typed twice")

    said = hotel("check-book", hotel.file, book, "--all")

    assert "the very file that the record makes, byte for byte" in said
    assert "stands in a later book" in said or "stand in a later book" in said
    assert "withdrawn" in said


def test_how_likely_something_was_missed_stands_in_a_book_if_asked_for(hotel):
    plain = python_calamine.load_workbook(str(written(hotel))).sheet_names
    book = written(hotel, "2026-03", "--odds")
    full = python_calamine.load_workbook(str(book)).sheet_names
    assert set(full) - set(plain) == {"How likely it was missed"}
    assert "byte for byte" in hotel("check-book", hotel.file, book)


def test_a_book_touched_by_hand_ends_with_status_1_and_names_the_cell(hotel):
    book = written(hotel)
    changed = openpyxl.load_workbook(book)
    changed["Last looks"]["B7"].value = "999/A"
    changed.save(book)

    said = hotel("check-book", hotel.file, book, exit_code=1)

    assert "Last looks B7: the book says “999/A”" in said
    assert "was changed after it was written" in said


def test_a_quarter_and_a_year_stand_side_by_side(hotel):
    quarter, year = written(hotel, "2026-Q1"), written(hotel, "2026")
    for path in (quarter, year):
        rows = python_calamine.load_workbook(str(path)).get_sheet_by_name("Months side by side")
        heading = next(row for row in rows.to_python() if row[0] == "What")
        # The record begins in March, when the hotel's file was begun.
        assert heading[1:3] == ["2026-03", "Together"]
        assert "byte for byte" in hotel("check-book", hotel.file, path)
    hotel("month", hotel.file, "2026-Q1", "--close", exit_code=1)
    hotel("month", hotel.file, "2026-Q7", exit_code=1)


@pytest.mark.parametrize("language", ["es", "ar"])
def test_a_book_in_another_language_is_checked_in_that_language(hotel, language):
    book = written(hotel, "2026-03", "--language", language)
    assert "byte for byte" in hotel("check-book", hotel.file, book)


def test_a_training_is_written_down_and_comes_again(hotel):
    hotel(
        *("training", hotel.file, "ana", "lifting", "--language", "español"),
        *("--trained-by", "mira", "--on", "2025-02-01"),
    )
    assert "nothing" not in hotel("trainings", hotel.file, "--overdue")
    hotel(
        "training", hotel.file, "ana", "lifting", "--language", "", "--trained-by", "m", exit_code=1
    )
