"""Logs of probes as loggers write them: separators, units, clocks, gaps and slips."""

from __future__ import annotations

from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pytest

from hotelwatch.core.problems import Refusal
from hotelwatch.intake.probe_file import ProbeCode, guessed, read_probe_log, with_answers

VIENNA = ZoneInfo("Europe/Vienna")
PLAIN = (
    "Time,Mattress core °C,Air °C\n"
    "2026-03-09 09:00,21.5,22.0\n"
    "2026-03-09 09:01,48.1,55.0\n"
    "2026-03-09 09:02,50.2,58.5\n"
)


def read(tmp_path, text, zone=VIENNA, encoding="utf-8", **answers):
    path = tmp_path / "log.csv"
    path.write_bytes(text.encode(encoding))
    first = read_probe_log(path, zone)
    if not answers:
        return first
    return read_probe_log(path, zone, mapping=with_answers(first.mapping, **answers))


def codes(log):
    return [(problem.code, problem.row) for problem in log.problems]


def test_a_plain_log_is_read_with_its_places_and_the_hotels_own_clock(tmp_path):
    log = read(tmp_path, PLAIN)
    assert log.problems == ()
    assert [(p.name, p.place) for p in log.probes] == [
        ("Mattress core °C", "mattress_core"),
        ("Air °C", "air"),
    ]
    core = log.probes[0]
    assert core.begins_at == datetime(2026, 3, 9, 8, tzinfo=UTC)
    assert core.minutes == (0.0, 1.0, 2.0)
    assert core.celsius == (21.5, 48.1, 50.2)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_semicolons_decimal_commas_and_any_encoding(tmp_path, encoding):
    text = "Zeit;Matratze °C;Luft °C\n09.03.2026 09:00;48,5;60,1\n09.03.2026 09:05;49,0;60,4\n"
    log = read(tmp_path, text, encoding=encoding)
    assert log.problems == ()
    assert log.probes[0].celsius == (48.5, 49.0)
    assert log.probes[0].place == "mattress_core"


# 118.4 °F are 48 °C, 32 °F are 0 °C: definition of the scales.
def test_fahrenheit_becomes_celsius(tmp_path):
    log = read(tmp_path, "Time,Box spring (F)\n2026-03-09 09:00,118.4\n2026-03-09 09:01,32\n")
    assert log.probes[0].celsius == pytest.approx((48.0, 0.0))
    assert log.probes[0].place == "base_inside"


def test_nobody_guesses_a_unit(tmp_path):
    text = "Time,Mattress,Air\n2026-03-09 09:00,118,120\n"
    assert codes(read(tmp_path, text)) == [(ProbeCode.NO_UNIT, 1)]
    assert read(tmp_path, text, unit="f").probes[0].celsius == pytest.approx((47.78,), abs=0.01)
    both = "Time,Mattress °C,Air °F\n2026-03-09 09:00,48,120\n"
    assert codes(read(tmp_path, both)) == [(ProbeCode.TWO_UNITS, 1)]


def test_elapsed_minutes_need_a_beginning(tmp_path):
    text = "Minutes,Mattress °C\n0,20\n2.5,48\n"
    assert codes(read(tmp_path, text)) == [(ProbeCode.NO_START, 1)]
    begins = datetime(2026, 3, 9, 8, tzinfo=UTC)
    log = read(tmp_path, text, begins_at=begins)
    assert log.probes[0].begins_at == begins
    assert log.probes[0].minutes == (0.0, 2.5)


def test_clock_times_alone_pass_midnight(tmp_path):
    text = "Time,Mattress °C\n23:58,48\n23:59,48\n00:01,49\n"
    assert codes(read(tmp_path, text)) == [(ProbeCode.NO_START, 2)]
    log = read(tmp_path, text, begins_at=datetime(2026, 3, 9, 20, tzinfo=UTC))
    assert log.probes[0].minutes == (0.0, 1.0, 3.0)


def test_day_and_month_are_asked_for_where_both_ways_are_possible(tmp_path):
    text = "Time,Mattress °C\n03/04/2026 9:00:00 AM,48\n03/04/2026 1:30:00 PM,49\n"
    assert codes(read(tmp_path, text)) == [(ProbeCode.DAY_OR_MONTH, 2)]
    log = read(tmp_path, text, day_first=False)
    assert log.probes[0].begins_at == datetime(2026, 3, 4, 8, tzinfo=UTC)
    assert log.probes[0].minutes == (0.0, 270.0)
    later = read(tmp_path, text, day_first=True)
    assert later.probes[0].begins_at == datetime(2026, 4, 3, 7, tzinfo=UTC)
    clear = "Time,Mattress °C\n03/24/2026 09:00,48\n"
    assert read(tmp_path, clear).problems == ()


# Clocks in Vienna went back on 25 October 2026 at 03:00 CEST: Directive 2000/84/EC.
def test_the_hour_that_comes_twice_goes_on(tmp_path):
    text = (
        "Time,Mattress °C\n2026-10-25 02:40,48\n2026-10-25 02:55,48\n"
        "2026-10-25 02:05,49\n2026-10-25 02:30,49\n"
    )
    log = read(tmp_path, text)
    assert log.probes[0].minutes == (0.0, 15.0, 25.0, 50.0)
    assert log.problems == ()


def test_what_can_not_be_read_is_said_with_its_row_and_the_rest_is_kept(tmp_path):
    text = (
        "Time,Mattress °C,Air °C\n"
        "2026-03-09 09:00,48,60\n"
        "soon,48,60\n"
        "2026-03-09 09:02,----,60\n"
        "2026-03-09 09:03,850,61\n"
        "2026-03-09 09:01,49,62\n"
        "2026-03-09 09:01,50,62\n"
    )
    log = read(tmp_path, text)
    assert codes(log) == [
        (ProbeCode.TIME_UNREADABLE, 3),
        (ProbeCode.OUT_OF_ORDER, 6),
        (ProbeCode.TIME_TWICE, 7),
        (ProbeCode.NOT_A_READING, 4),
        (ProbeCode.READING_ABSURD, 5),
    ]
    assert log.is_good
    core, air = log.probes
    assert core.minutes == (0.0, 1.0)
    assert core.celsius == (48.0, 49.0)
    assert air.minutes == (0.0, 1.0, 2.0, 3.0)


def test_a_file_that_is_no_log_says_what_is_missing(tmp_path):
    assert codes(read(tmp_path, "Room,Floor °C\n101,2\n")) == [(ProbeCode.NO_TIME, 1)]
    empty = read(tmp_path, "Time,Note\n2026-03-09 09:00,hot\n2026-03-09 09:01,hot\n")
    assert (ProbeCode.NO_PROBE, 1) in codes(empty)
    with pytest.raises(Refusal):
        read(tmp_path, "")


def test_columns_that_are_no_probe_are_left_out():
    known = guessed(("No.", "Date", "Time", "Mattress core (C)", "RH %", "Battery V"))
    assert known.times == ("Date", "Time")
    assert dict(known.places) == {"Mattress core (C)": "mattress_core"}
