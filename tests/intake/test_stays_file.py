from __future__ import annotations

import gc
import hashlib
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.problems import InputRefused
from hotelwatch.core.records import Stay, StayStatus
from hotelwatch.intake.day_text import TwoWays, parsed
from hotelwatch.intake.stays_file import read_stays, stays_in, stays_table, take_stays
from hotelwatch.intake.tables import TablePlace
from hotelwatch.intake.words import shipped_words
from tests.intake.files import csv_file, xlsx_file

WORDS = shipped_words()
HEADINGS = ("Booking", "Room", "Type", "Arrival", "Departure", "Nights", "Status")
GOOD = ("b1", "101", "Twin", "2026-03-01", "2026-03-04", "3", "booked")
HOUSE = {"rooms": {"101", "103", "0105"}, "room_types": {"Twin", "Suite"}}


def row(**changes):
    """A good row but for these cells."""
    return tuple(changes.get(name.lower(), cell) for name, cell in zip(HEADINGS, GOOD, strict=True))


def reading(tmp_path, *rows, headings=HEADINGS, **more):
    return read_stays(csv_file(tmp_path / "s.csv", [headings, *rows]), **(HOUSE | more))


def found(result):
    return [(p.row, p.column, p.code) for p in result.problems]


def dates(tmp_path, *pairs, **more):
    """Readings of (arrival, departure) only."""
    rows = [(f"b{n}", "101", *pair) for n, pair in enumerate(pairs)]
    headings = ("Booking", "Room", "Arrival", "Departure")
    result = reading(tmp_path, *rows, headings=headings, **more)
    told = [p for p in result.problems if p.code not in ("status_assumed", "stays_overlap")]
    return [(stay.arrives_on, stay.leaves_on) for stay in result.stays], told


# --- good rows ------------------------------------------------------------------------------


def test_a_row_becomes_a_stay(tmp_path):
    result = reading(tmp_path, row(), row(booking="b2", room="", type="suite", status="In-House"))
    assert result.problems == ()
    assert result.stays == (
        Stay("b1", "101", "Twin", date(2026, 3, 1), date(2026, 3, 4), StayStatus.BOOKED),
        Stay("b2", "", "Suite", date(2026, 3, 1), date(2026, 3, 4), StayStatus.IN_HOUSE),
    )
    assert result.sha256 == hashlib.sha256((tmp_path / "s.csv").read_bytes()).hexdigest()
    assert take_stays(result, keep_good=False) == result.stays


@pytest.mark.parametrize(
    ("written", "booked_on"),
    [
        ("2026-01-20", date(2026, 1, 20)),
        ("2026-01-20 14:05", date(2026, 1, 20)),
        # Written down after the guest came: booked on arrival at the latest.
        ("2026-03-02", date(2026, 3, 1)),
        ("", None),
    ],
)
def test_the_day_of_booking_is_taken_where_the_file_has_it(tmp_path, written, booked_on):
    result = reading(tmp_path, (*row(), written), headings=(*HEADINGS, "Booked on"))
    assert result.problems == ()
    assert [stay.booked_on for stay in result.stays] == [booked_on]


def test_no_booking_is_lost_for_the_sake_of_its_day_of_booking(tmp_path):
    result = reading(tmp_path, (*row(), "by phone"), headings=(*HEADINGS, "Created"))
    assert found(result) == [(2, "Created", "booking_day_unread")]
    assert [stay.booked_on for stay in result.stays] == [None]


def test_a_workbook_with_real_dates_gives_the_same_stays(tmp_path):
    real = row(arrival=date(2026, 3, 1), departure=date(2026, 3, 4), nights=3, room=101)
    book = read_stays(xlsx_file(tmp_path / "s.xlsx", [HEADINGS, real]), **HOUSE)
    assert book.stays == reading(tmp_path, row()).stays
    assert book.problems == ()


def test_nights_stand_in_for_the_departure(tmp_path):
    lines = [("7", "2015-07-31", "2", "A", "stayed"), ("8", "2016-02-28", "1", "A", "cancelled")]
    headings = ("booking", "arrival", "nights", "booked_type", "status")
    result = reading(tmp_path, *lines, headings=headings, room_types={"A"})
    assert result.problems == ()
    assert result.stays == (
        Stay("7", "", "A", date(2015, 7, 31), date(2015, 8, 2), StayStatus.LEFT),
        Stay("8", "", "A", date(2016, 2, 28), date(2016, 2, 29), StayStatus.CANCELLED),
    )


@pytest.mark.parametrize(
    ("words", "status"),
    [
        (("booked", "Confirmed", "DUE IN", "reserved", ""), StayStatus.BOOKED),
        (("in house", "In-house", "checked_in", "Stayover", "due out"), StayStatus.IN_HOUSE),
        (("left", "Checked out", "departed", "stayed"), StayStatus.LEFT),
        (("cancelled", "Canceled", "void"), StayStatus.CANCELLED),
        (("no-show", "No show", "NOSHOW"), StayStatus.NO_SHOW),
    ],
)
def test_states_are_read_in_the_usual_words(tmp_path, words, status):
    result = reading(tmp_path, *(row(booking=str(n), status=w) for n, w in enumerate(words)))
    assert {stay.status for stay in result.stays} == {status}


def test_without_states_all_are_read_as_booked_and_that_is_told(tmp_path):
    result = reading(tmp_path, GOOD[:6], headings=HEADINGS[:6])
    assert result.stays[0].status is StayStatus.BOOKED
    assert found(result) == [(0, "", "status_assumed")]


def test_rows_without_a_reference_get_the_same_one_each_time(tmp_path):
    lines = [GOOD[1:], ("", "Twin", *GOOD[3:]), ("", "Twin", *GOOD[3:]), ("103", *GOOD[2:])]
    first = reading(tmp_path, *lines, headings=HEADINGS[1:])
    again = reading(tmp_path, *reversed(lines), headings=HEADINGS[1:])
    assert len({stay.booking for stay in first.stays}) == 4
    assert {s.booking for s in first.stays} == {s.booking for s in again.stays}


def test_a_room_that_lost_its_zeros_is_found_and_told_once(tmp_path):
    later = {"arrival": "2026-04-01", "departure": "2026-04-02", "nights": "1"}
    result = reading(tmp_path, row(room="105"), row(booking="b2", room="105", **later))
    assert {stay.room for stay in result.stays} == {"0105"}
    assert found(result) == [(2, "Room", "room_read_as")]


def test_where_no_room_is_known_nothing_is_compared_and_that_is_told(tmp_path):
    result = reading(tmp_path, row(room="9"), rooms=(), room_types={""})
    assert result.stays[0].room == "9"
    assert found(result) == [(0, "", "rooms_not_compared")]


# --- bad rows --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "column", "code"),
    [
        ({"arrival": ""}, "Arrival", "arrival_missing"),
        ({"departure": "", "nights": ""}, "Departure", "departure_missing"),
        ({"arrival": "tomorrow"}, "Arrival", "not_a_date"),
        ({"arrival": "2026-02-29"}, "Arrival", "not_a_date"),
        ({"departure": "46085"}, "Departure", "not_a_date"),
        ({"arrival": "1026-03-01"}, "Arrival", "date_absurd"),
        ({"departure": "2026-02-27", "nights": ""}, "Departure", "departure_before_arrival"),
        ({"departure": "2036-02-27", "nights": ""}, "Departure", "stay_absurd"),
        ({"nights": "4"}, "Nights", "nights_do_not_match"),
        ({"nights": "-1"}, "Nights", "number_absurd"),
        ({"nights": "a few"}, "Nights", "not_a_number"),
        ({"status": "perhaps"}, "Status", "status_unknown"),
        ({"room": "", "type": ""}, "Type", "neither_room_nor_type"),
        ({"room": "999"}, "Room", "room_unknown"),
        ({"room": "", "type": "Palace"}, "Type", "type_unknown"),
    ],
)
def test_a_bad_row_is_named_with_its_row_column_and_code(tmp_path, changes, column, code):
    good = row(booking="b0", room="103")
    result = reading(tmp_path, good, row(**changes))
    assert found(result) == [(3, column, code)]
    assert result.problems[0].blocking
    assert [stay.booking for stay in result.stays] == ["b0"]
    assert result.rows_bad == 1
    assert take_stays(result, keep_good=True) == result.stays
    with pytest.raises(InputRefused):
        take_stays(result, keep_good=False)


def test_day_use_is_no_stay_and_is_kept_out_with_a_note(tmp_path):
    result = reading(tmp_path, row(departure="2026-03-01", nights="0"), row(booking="b2"))
    assert found(result) == [(2, "Arrival", "day_use")]
    assert not result.problems[0].blocking
    assert [stay.booking for stay in result.stays] == ["b2"]
    assert (result.day_uses, result.rows_bad) == (1, 0)


def test_needed_columns_that_are_not_there_refuse_the_whole_table(tmp_path):
    result = reading(tmp_path, ("b1", "101"), headings=("Booking", "Room"))
    assert found(result) == [(1, "", "field_missing")]
    result = reading(tmp_path, ("b1", "2026-01-01"), headings=("Booking", "Arrival"))
    told = {(p.code, p.blocking) for p in result.problems}
    assert told == {
        ("departure_missing", True),
        ("neither_room_nor_type", True),
        ("status_assumed", False),
    }
    with pytest.raises(InputRefused):
        take_stays(result, keep_good=True)


# --- between rows ------------------------------------------------------------------------------


def test_two_stays_in_one_room_on_one_night_are_taken_and_both_rows_named(tmp_path):
    result = reading(
        tmp_path,
        row(),
        row(booking="b2", arrival="2026-03-03", departure="2026-03-05", nights="2"),
        row(booking="b3", arrival="2026-03-05", departure="2026-03-06", nights="1"),
        row(booking="b4", status="cancelled"),
    )
    assert len(result.stays) == 4
    assert found(result) == [(3, "Room", "stays_overlap")]
    assert result.problems[0].values == {
        "room": "101",
        "other_row": "2",
        "booking": "b2",
        "other_booking": "b1",
    }


def test_a_long_stay_overlaps_each_one_within_it(tmp_path):
    result = reading(
        tmp_path,
        row(departure="2026-03-31", nights=""),
        row(booking="b2", arrival="2026-03-02", departure="2026-03-04", nights=""),
        row(booking="b3", arrival="2026-03-10", departure="2026-03-12", nights=""),
    )
    assert [(p.row, p.values["other_row"]) for p in result.problems] == [(3, "2"), (4, "2")]


def test_a_repeated_row_is_taken_once_but_two_rooms_of_a_type_are_two(tmp_path):
    group = row(booking="g", room="")
    result = reading(tmp_path, row(), row(), group, group)
    assert found(result) == [(3, "Booking", "stay_repeated")]
    assert [stay.booking for stay in result.stays] == ["b1", "g", "g"]


# --- days -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        # ISO 8601: calendar date, extended and basic, alone and with a time of day.
        "1985-04-12",
        "19850412",
        "1985-04-12T10:15:30",
        "19850412T101530",
        "1985-04-12T10:15:30+04:00",
        "1985-04-12 15:00",
        "1985/04/12",
        "12 April 1985",
        "12-Apr-1985",
        "12. Apr 1985",
        "Apr 12, 1985",
        "April 12th, 1985",
        "Friday, 12 April 1985",
        "Fri 12 Apr 1985",
    ],
)
def test_days_that_can_be_read_one_way_only(text):
    assert parsed(text, WORDS) == date(1985, 4, 12)


@pytest.mark.parametrize(
    "text", ["2026-13-01", "2023-02-29", "20260431", "soon", "12 Brumaire 1985", "1985", "1-2", ""]
)
def test_what_is_no_day_is_none(text):
    assert parsed(text, WORDS) is None


@given(st.dates(date(2000, 1, 1), date(2099, 12, 31)))
def test_a_day_is_read_back_from_either_order(day):
    for text in (f"{day:%d/%m/%Y}", f"{day.day}.{day.month}.{day:%y}", f"{day:%d-%m-%Y}"):
        assert parsed(text, WORDS).day(day_first=True) == day
    assert parsed(f"{day:%m/%d/%Y} 15:00", WORDS).day(day_first=False) == day
    assert parsed(day.isoformat(), WORDS) == day
    assert TwoWays(day.day, day.month, day.year).is_open == (day.day <= 12 and day.day != day.month)


def test_one_day_above_twelve_decides_for_its_whole_column(tmp_path):
    days, told = dates(tmp_path, ("01/03/2026", "04/03/2026"), ("05/03/2026", "13/03/2026"))
    assert told == []
    assert days[0] == (date(2026, 3, 1), date(2026, 3, 4))
    days, told = dates(tmp_path, ("03/01/2026", "03/04/2026"), ("03/05/2026", "03/13/2026"))
    assert told == []
    assert days[0] == (date(2026, 3, 1), date(2026, 3, 4))


def test_a_column_that_fits_both_orders_asks_the_person(tmp_path):
    pairs = [("01/03/2026", "04/03/2026")]
    days, told = dates(tmp_path, *pairs)
    assert (days, [(p.row, p.column, p.code) for p in told]) == (
        [],
        [(0, "Arrival", "day_or_month_first")],
    )
    assert dates(tmp_path, *pairs, day_first=True)[0] == [(date(2026, 3, 1), date(2026, 3, 4))]
    assert dates(tmp_path, *pairs, day_first=False)[0] == [(date(2026, 1, 3), date(2026, 4, 3))]


def test_days_that_are_the_same_in_both_orders_ask_nothing(tmp_path):
    days, told = dates(tmp_path, ("03/03/2026", "04/04/2026"))
    assert (len(days), told) == (1, [])


def test_a_column_of_both_orders_is_refused_with_an_example_of_each(tmp_path):
    pairs = [("13/03/2026", "14/03/2026"), ("03/14/2026", "03/15/2026")]
    days, told = dates(tmp_path, *pairs)
    assert days == []
    assert [(p.row, p.code, p.values["other_row"]) for p in told] == [(2, "dates_mixed", "3")]
    days, told = dates(tmp_path, *pairs, day_first=True)
    assert days == [(date(2026, 3, 13), date(2026, 3, 14))]
    assert [(p.row, p.code) for p in told] == [(3, "not_a_date"), (3, "not_a_date")]


def test_real_dates_beside_text_dates_are_told(tmp_path):
    rows = [("Room", "From", "To"), ("101", date(2026, 3, 1), "13/03/2026")]
    result = read_stays(xlsx_file(tmp_path / "s.xlsx", rows), **HOUSE)
    assert [p.code for p in result.problems] == ["status_assumed", "dates_half_turned"]
    assert result.stays[0].leaves_on == date(2026, 3, 13)


def test_nights_across_a_clock_change_are_nights(tmp_path):
    # Clocks change on 29 March 2026 in Europe/Vienna (IANA time zone database): a stay
    # is counted in local dates, so the short night is one night.
    result = reading(tmp_path, row(arrival="2026-03-28", departure="2026-03-30", nights="2"))
    assert result.stays[0].leaves_on - result.stays[0].arrives_on == timedelta(days=2)


# --- people are dropped at the door -----------------------------------------------------


def everything_in(value):
    """Every text that can be reached from a value."""
    seen, waiting, texts = set(), [value], []
    while waiting:
        one = waiting.pop()
        if id(one) in seen or isinstance(one, type):
            continue
        seen.add(id(one))
        if isinstance(one, str):
            texts.append(one)
        waiting.extend(gc.get_referents(one))
    return texts


PEOPLE = ("Guest name", "E-mail", "Phone", "Nationality", "Remarks", "Favourite soup")
SECRETS = ("Anna Invented", "anna@invented.example", "555 0100", "Nowhere", "bites", "leek")


@pytest.mark.parametrize("kind", ["csv", "xlsx"])
def test_names_and_contacts_are_in_nothing_that_is_kept(tmp_path, kind):
    lines = [
        (*HEADINGS, *PEOPLE),
        (*row(), *SECRETS),
        (*row(booking="", room="999"), *SECRETS),
        (*row(arrival="never"), *SECRETS),
    ]
    writer = csv_file if kind == "csv" else xlsx_file
    path = writer(tmp_path / f"s.{kind}", lines)
    for kept in (read_stays(path, **HOUSE), stays_table(path)):
        texts = everything_in(kept)
        assert "Guest name" in texts
        assert "101" in texts
        assert not [text for text in texts for secret in SECRETS if secret in text]


def test_no_field_may_be_taken_from_a_column_about_people(tmp_path):
    headings = ("Room", "Arrival", "Nights", "Guest name")
    mapping = {"room": "Room", "arrival": "Arrival", "nights": "Nights", "booking": "Guest name"}
    result = reading(
        tmp_path, ("101", "2026-03-01", "1", "Anna Invented"), headings=headings, mapping=mapping
    )
    assert (1, "Guest name", "column_about_people") in found(result)
    assert result.stays == ()
    assert "Anna Invented" not in everything_in(result)


def test_a_person_may_say_which_column_is_which_and_where_the_headings_are(tmp_path):
    lines = [("x", "y", "z"), ("Zi", "An", "Ab"), ("101", "2026-03-01", "2026-03-02")]
    path = csv_file(tmp_path / "s.csv", lines)
    mapping = {"room": "Zi", "arrival": "An", "departure": "Ab"}
    table = stays_table(path, mapping, at=TablePlace(heading_row=2))
    result = stays_in(table, mapping, **HOUSE)
    assert [(stay.room, stay.arrives_on) for stay in result.stays] == [("101", date(2026, 3, 1))]
    assert result.preview == (("101", "2026-03-01", "2026-03-02"),)


# --- many -------------------------------------------------------------------------------


@pytest.mark.long
@pytest.mark.parametrize(("kind", "many"), [("csv", 40_000), ("xlsx", 24_000)])
def test_tens_of_thousands_of_bookings_are_read_whole(tmp_path, kind, many):
    lines = [("Booking", "Type", "Arrival", "Nights", "Status")]
    start = date(2024, 1, 1)
    for n in range(many):
        arrival = start + timedelta(days=n % 900)
        lines.append((n, "Twin", arrival, n % 7 + 1, "cancelled" if n % 4 == 0 else "stayed"))
    writer = csv_file if kind == "csv" else xlsx_file
    result = read_stays(writer(tmp_path / f"s.{kind}", lines), **HOUSE)
    assert result.problems == ()
    assert len(result.stays) == many
    assert sum((s.leaves_on - s.arrives_on).days for s in result.stays) == sum(
        n % 7 + 1 for n in range(many)
    )
    assert sum(not stay.counts for stay in result.stays) == many // 4
