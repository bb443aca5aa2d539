"""Commands for a visit's times and aids, for a dog's visit and for specimen labels."""

from __future__ import annotations

import pytest

AT = "2026-03-09T08:00"


def test_a_check_says_from_when_to_when_and_with_what(hotel):
    two = ("--who", "Ana", "--who", "Bo")
    said = hotel(
        "record", hotel.file, "101", *two, "--from", "7:10", "--until", "725",
        "--aid", "bright_light", "--aid", "thin_card",
    )  # fmt: skip
    assert "Recorded 101." in said
    wrong = hotel("record", hotel.file, "101", "--who", "Ana", "--from", "25:00", exit_code=1)
    assert "25:00" in wrong
    later = hotel("record", hotel.file, "101", *two, "--until", "23:00", exit_code=1)
    assert "Mon 9 Mar 2026, 23:00 has not come yet" in later
    unknown = hotel("record", hotel.file, "101", *two, "--form", "99", exit_code=1)
    assert "no version 99 of the form" in unknown
    assert "Invalid value for '--aid'" in hotel(
        "record", hotel.file, "101", "--who", "Ana", "--aid", "sonar", exit_code=2
    )


def test_a_dogs_alert_asks_for_a_look_and_stays_open_until_it_was_made(hotel):
    file = hotel.file
    assert "No visit of a dog" in hotel("list", "dog-visits", file)
    said = hotel(
        "dog-visit", file, "Keen Nose", "101", "102", "103", "--alert", "102",
        "--certified", "as told", "--at", AT, "--by", "Ana",
    )  # fmt: skip
    assert "Open: nobody has looked yet" in said
    assert "no find" in said
    assert "44 %" in said
    assert "Check 102 by" in hotel("list", "cases", file)
    due = hotel("list", "due", file, "--within", 400)
    assert due.count("never") == 5  # led through is not looked at
    hotel("record", file, "102", "--who", "Ana", "--who", "Bo")
    assert "Not confirmed, Mon 9 Mar 2026" in hotel("list", "dog-visits", file)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("101", "--alert", "102"), "where the dog was not led"),
        (("999",), "999"),
        (("101", "--at", "2026-03-10T08:00"), "Tue 10 Mar 2026, 08:00 has not come yet"),
    ],
)
def test_a_dogs_visit_that_cant_be_is_refused(hotel, words, said):
    assert said in hotel("dog-visit", hotel.file, "Keen Nose", *words, "--by", "Ana", exit_code=1)
    assert "No visit of a dog" in hotel("list", "dog-visits", hotel.file)


def test_labels_are_printed_for_a_cases_specimens(hotel):
    pytest.importorskip("PySide6", reason="this run leaves Qt out")
    hotel("sighting", hotel.file, "101", "live_insect", "--seen-by", "Ana")
    target = hotel.folder / "labels.pdf"
    none = hotel("specimen-label", hotel.file, "2026-001", target, exit_code=1)
    assert "No specimen of case 2026-001" in none
    hotel("specimen", hotel.file, "2026-001", "T-1", "kept", "safe")
    hotel("specimen", hotel.file, "2026-001", "T-2", "kept", "safe")
    assert "1 page" in hotel("specimen-label", hotel.file, "2026-001", target, "--copies", 3)
    assert target.read_bytes().startswith(b"%PDF")
    other = hotel("specimen-label", hotel.file, "2026-001", target, "--label", "X", exit_code=1)
    assert "no specimen X" in other
