"""A first day, by commands alone: from an empty folder to the month's workbook."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pypdf
import pytest
import python_calamine
from click.testing import CliRunner
from PIL import Image

from hotelwatch import paths
from hotelwatch.cli.common import Desk
from hotelwatch.cli.main import commands

MORNING = datetime(2026, 3, 9, 7, 30, tzinfo=UTC)
"""A Monday, half past eight in Vienna."""


@dataclass
class Command:
    """Commands on one hotel's file, by a clock that the test sets."""

    file: Path
    now: datetime = MORNING

    def __call__(self, *words: str, says: str = "", exit_code: int = 0) -> str:
        desk = Desk(clock=lambda: self.now)
        result = CliRunner().invoke(commands, [str(word) for word in words], obj=desk)
        if result.exception and not isinstance(result.exception, SystemExit):
            raise result.exception
        assert result.exit_code == exit_code, result.output
        assert says in result.output
        return result.output


@pytest.fixture
def command(tmp_path):
    return Command(tmp_path / "inn.hotelwatch")


@pytest.fixture
def hotel(command):
    demo = paths.demo_hotel()
    file = command.file
    command("new", file, "--name", "Invented Inn", "--zone", "Europe/Vienna", "--by", "maria")
    command("load", "roster", file, demo / "roster.xlsx", says="63 rooms and 98 beds")
    command("wings", file, demo / "wings.csv")
    command("team", file, "Early pair", "--minutes", "120")
    return command


def test_a_first_day_from_an_empty_folder_to_the_workbook(hotel, tmp_path):
    file = hotel.file
    bookings = tmp_path / "bookings.csv"
    bookings.write_text(
        "Booking,Room,Type,Arrival,Departure,Status\n"
        "B1,110,,2026-03-08,2026-03-12,in house\n"
        "B2,108,,2026-03-09,2026-03-11,booked\n",
        "utf-8",
    )
    hotel("load", "bookings", file, bookings, says="2 bookings taken.")
    planned = hotel("plan", file, "--days", "7", "--publish", says="rooms published.")
    assert "Mon 9 Mar 2026" in planned

    printed = hotel("sheet", file, "--folder", tmp_path / "sheets", says="sheet-2026-03-09")
    pdf = next((tmp_path / "sheets").glob("*.pdf"))
    pages = (page.extract_text() for page in pypdf.PdfReader(pdf).pages)
    text = " ".join("\n".join(pages).split())
    rows = (line.partition("Early pair")[2].split() for line in planned.splitlines())
    first_room = next(row[0] for row in rows if row)
    assert f"Room {first_room}" in text
    assert text.index("Underside of the mattress") < text.index("Upholstered seats")
    assert str(pdf) in printed

    hotel.now += timedelta(hours=4)
    hotel("record", file, first_room, "--who", "Ana", "--who", "Bogdan", says="Recorded")
    listed = hotel("list", "due", file, "--within", "200")
    assert next(line for line in listed.splitlines() if line.startswith(first_room)).count("2026")

    picture = tmp_path / "spot.jpg"
    Image.new("RGB", (40, 30), "white").save(picture)
    told = hotel(
        "sighting", file, "205", "live_insect",
        "--place", "base_staple_line", "--bed", "A", "--seen-by", "Ana", "--photo", picture,
    )  # fmt: skip
    # Demo hotel: 203 and 207 beside it on the odd side, 105 below, 305 above.
    for neighbour in ("203", "105", "305"):
        assert f"Check {neighbour} by Tue 10 Mar 2026, 12:30 CET" in told
    hotel("list", "front-desk", file, says="205")
    refused = hotel("lift", file, "2026-001", "205", "--lifted-by", "Maria", exit_code=1)
    assert "condition" in refused
    judged = (
        "judge", file, "2026-001", "not_bed_bug",
        "--judged-by", "J. Marder", "--competence", "entomologist", "--was", "carpet_beetle",
    )  # fmt: skip
    hotel(*judged)
    hotel("lift", file, "2026-001", "205", "--lifted-by", "Maria")
    hotel("list", "front-desk", file, says="Nothing is blocked.")

    book = tmp_path / "march.xlsx"
    hotel("month", file, "2026-03", "--to", book, says="March 2026")
    sheets = python_calamine.CalamineWorkbook.from_path(book).sheet_names
    assert len(sheets) > 5
    hotel("front-desk", file, tmp_path / "desk.xlsx")
    hotel("back-up", file, tmp_path / "copy.hotelwatch")
    hotel("check-file", tmp_path / "copy.hotelwatch", says="unbroken")
    hotel("check-file", file, says="unbroken")


def test_the_same_roster_again_changes_nothing(hotel):
    before = hotel("check-file", hotel.file)
    hotel("load", "roster", hotel.file, paths.demo_hotel() / "roster.csv")
    assert hotel("check-file", hotel.file) == before


def test_a_check_by_one_person_is_refused_where_two_are_needed(hotel):
    refused = hotel("record", hotel.file, "101", "--who", "Ana", exit_code=1)
    assert "2" in refused
    hotel("list", "entries", hotel.file)


def test_a_check_taken_back_counts_no_more_and_stays_in_the_file(hotel):
    hotel("record", hotel.file, "101", "--who", "Ana", "--who", "Bogdan")
    looked_at = hotel("list", "due", hotel.file, "--within", "200")
    entry = hotel("list", "entries", hotel.file, "--last", "1").splitlines()[-1].split()[0]
    hotel("take-back", hotel.file, entry, "--reason", "Typed for the wrong room.")
    line = next(
        line
        for line in hotel("list", "due", hotel.file, "--within", "200").splitlines()
        if line.startswith("101/A")
    )
    assert line not in looked_at
    assert "never" in line
    hotel("list", "entries", hotel.file, says="Typed for the wrong room.")
    hotel("check-file", hotel.file, says="unbroken")


def test_a_bad_row_is_named_and_nothing_is_written_unless_the_good_rows_are_wanted(
    command, tmp_path
):
    file = command.file
    command("new", file, "--name", "Invented Inn", "--zone", "Europe/Vienna")
    roster = tmp_path / "roster.csv"
    roster.write_text(
        "Room,Floor,Wing,Side,Order,Type,Beds\n"
        "101,1,,left,1,Double,1 box spring\n"
        "102,,,left,2,Double,1 box spring\n",
        "utf-8",
    )
    refused = command("load", "roster", file, roster, exit_code=1)
    assert "row 3" in refused
    assert "Nothing was written down." in refused
    command("load", "roster", file, roster, "--keep-good", says="1 room and 1 bed")


def test_what_is_no_hotel_file_is_said_plainly_and_left_alone(command, tmp_path):
    other = tmp_path / "notes.txt"
    other.write_text("nothing of ours", "utf-8")
    told = command("list", "due", other, exit_code=1)
    assert "Traceback" not in told
    assert other.read_text("utf-8") == "nothing of ours"


def test_every_command_is_named_in_the_readme():
    readme = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
    for name, command in commands.commands.items():
        assert command.help, name
        assert re.search(rf"`{name}\b", readme), name
