"""Firms, orders, visits, logs of probes and care, by command."""

from __future__ import annotations

import sqlite3
from contextlib import closing

import pytest

from hotelwatch.wording import language

CASE = "2026-001"
FIRM = "Invented Heat Ltd"


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


@pytest.fixture
def confirmed(hotel):
    hotel("sighting", hotel.file, "102", "live_insect", "--seen-by", "Ana")
    hotel(
        "judge",
        hotel.file,
        CASE,
        "confirmed",
        "--judged-by",
        "Dr. Vey",
        "--competence",
        "entomologist",
    )
    return hotel


def treat(hotel, *rooms, **more):
    told = {"method": "heat", "firm": FIRM, "licence": "L-7", "reenter": "2026-03-09T08:00", **more}
    options = [part for key, value in told.items() for part in (f"--{key}", value)]
    return hotel("treatment", hotel.file, CASE, *(rooms or ("102",)), *options)


def log(hotel, celsius, minutes, heading="Mattress core °C"):
    rows = "".join(
        f"2026-03-09 {6 + minute // 60:02d}:{minute % 60:02d},{celsius},60\n"
        for minute in range(minutes + 1)
    )
    return hotel.table("log.csv", f"Time,{heading},Air °C\n{rows}")


def test_a_firm_is_kept_with_its_licence_and_the_doubts_of_a_visit_are_said(confirmed):
    hotel = confirmed
    assert "No firm" in hotel("firm", hotel.file)
    assert "licence" in hotel("firm", hotel.file, FIRM, exit_code=1)
    said = hotel("firm", hotel.file, FIRM, "--licence", "L-7", "--expires", "2026-02-28")
    assert "Sat 28 Feb 2026" in said
    said = treat(hotel, preparation="partly", bedding="left")
    assert "ran out on Sat 28 Feb 2026" in said
    assert "preparation done in part" in said
    assert "heat without a log" in said
    assert "does not say which parts" in said
    assert "is not among" not in said
    # Bedding after heat was heated as well.
    assert "bedding was left" not in said
    said = treat(hotel, method="spray", bedding="left", firm="Other Ltd")
    assert "bedding was left" in said
    assert "Other Ltd is not among" in said


# Source: treatment only on confirmed evidence or a qualified professional's judgement:
# national pest management association, best management practices (2011), 2.4.
def test_a_treatment_before_any_confirmation_is_looked_at_twice(hotel):
    hotel("sighting", hotel.file, "102", "live_insect", "--seen-by", "Ana")
    assert "before a competent person confirmed" in treat(hotel)


def test_several_rooms_are_treated_at_once_but_none_that_is_not_of_the_case(confirmed):
    hotel = confirmed
    treat(hotel, "102", "101")
    with closing(sqlite3.connect(hotel.file)) as plain:
        rows = plain.execute("SELECT entry, room FROM treatment_recorded ORDER BY room").fetchall()
    assert [room for _entry, room in rows] == ["101", "102"]
    assert len({entry for entry, _room in rows}) == 1
    assert "104" in hotel(
        "treatment", hotel.file, CASE, "102", "104", "--method", "heat", "--firm", FIRM,
        "--licence", "L-7", "--reenter", "2026-03-09T08:00", exit_code=1,
    )  # fmt: skip


def test_an_ordered_visit_stands_among_what_is_next(confirmed):
    hotel = confirmed
    hotel(
        "order-treatment", hotel.file, CASE, "102", "--firm", FIRM, "--at", "2026-03-10T09:00",
        "--preparation", "open all drawers",
    )  # fmt: skip
    said = hotel("next", hotel.file)
    assert f"{FIRM} comes to 102 on Tue 10 Mar 2026, 09:00 CET" in said


# Source: 71.5 min at 48 °C for eggs: Kells and Goblirsch 2011, Insects 2:412-422. Twice
# that is asked: after 120 min 23 are missing.
def test_a_log_says_what_it_shows_and_what_is_missing(confirmed):
    hotel = confirmed
    said = hotel("probe-log", hotel.file, CASE, "102", log(hotel, 48, 120), "--look")
    assert "Mattress core °C decides: 1.68 of 2.00" in said
    assert "23 minutes more at 48 °C were needed" in said
    assert "Kells and Goblirsch 2011" in said
    treat(hotel)
    said = hotel("probe-log", hotel.file, CASE, "102", log(hotel, 48, 143))
    assert "Every probe reached the dose asked for" in said
    assert "free" not in said
    assert "heat without a log" not in treat(hotel)


def test_one_log_is_kept_once_for_a_room_and_can_be_of_several(confirmed):
    hotel = confirmed
    path = log(hotel, 48, 150)
    hotel("probe-log", hotel.file, CASE, "102", path)
    assert "log 1 of room 102" in hotel("probe-log", hotel.file, CASE, "102", path, exit_code=1)
    assert "decides" in hotel("probe-log", hotel.file, CASE, "101", path)


def test_a_log_that_names_no_unit_is_refused_until_somebody_says_it(confirmed):
    hotel = confirmed
    path = log(hotel, 120, 150, heading="Mattress core")
    path.write_text(path.read_text("utf-8").replace("Air °C", "Air"), "utf-8")
    said = hotel("probe-log", hotel.file, CASE, "102", path, exit_code=1)
    assert "°C or °F" in said
    assert "Nothing was written down" in said
    said = hotel("probe-log", hotel.file, CASE, "102", path, "--unit", "f")
    assert "Mattress core" in said


def test_for_the_tropical_species_nothing_is_concluded(confirmed):
    hotel = confirmed
    hotel("choose", hotel.file, "species", "tropical")
    said = hotel("probe-log", hotel.file, CASE, "102", log(hotel, 55, 200))
    assert "Nothing is concluded from this log." in said
    assert "Cimex hemipterus" in said


# Source: wash at 60 °C, or a hot dryer above 40 °C for 30 minutes: Naylor and Boase 2010,
# J Econ Entomol 103:136-139.
@pytest.mark.parametrize(
    ("celsius", "minutes", "is_short"),
    [(60, 0, False), (40, 60, True), (55, 30, False), (55, 20, True)],
)
def test_linen_is_compared_with_the_published_wash_and_dryer(confirmed, celsius, minutes, is_short):
    hotel = confirmed
    said = hotel(
        "care", hotel.file, CASE, "102", "linen", "--who", "Ines",
        "--celsius", celsius, "--minutes", minutes,
    )  # fmt: skip
    assert ("less than the published wash" in said) is is_short
    assert "linen" not in next(
        (line for line in hotel("next", hotel.file).splitlines() if "take_care" in line), ""
    )


def test_a_thing_thrown_away_is_named(confirmed):
    hotel = confirmed
    assert "thrown away" in hotel("discard", hotel.file, CASE, "102", " ", exit_code=1)
    assert "Written down" in hotel(
        "discard", hotel.file, CASE, "102", "armchair", "--unusable", "--labelled"
    )


# Source: FIPS 180-4, SHA-256; the digest of "abc" is the standard's worked example.
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_a_paper_is_kept_as_it_came_and_told_with_its_digest(confirmed):
    hotel = confirmed
    report = hotel.table("report of visit.PDF", "abc")
    said = hotel("keep-paper", hotel.file, CASE, report, "--what", "report", "--by", "Ines")
    assert f"Report kept: report of visit.PDF, SHA-256 {ABC[:16]}…" in said
    assert f"Whole digest: {ABC}" in said
    assert (hotel.folder / "inn.papers" / f"{ABC}.pdf").read_bytes() == b"abc"
    with closing(sqlite3.connect(hotel.file)) as plain:
        columns = '"case", sha256, named.words, what, who.words'
        rows = plain.execute(
            f"SELECT {columns} FROM paper_kept JOIN word AS named ON named.cell = file_name"
            ' JOIN word AS who ON who.cell = "by"'
        ).fetchall()
    assert rows == [(CASE, ABC, "report of visit.PDF", "report", "Ines")]
    hotel("check-file", hotel.file)
    (hotel.folder / "inn.papers" / f"{ABC}.pdf").write_bytes(b"abd")
    assert f"({ABC})" in hotel("check-file", hotel.file, exit_code=1)


def test_a_paper_is_kept_once_with_a_case_whatever_it_is_called(confirmed):
    hotel = confirmed
    hotel("keep-paper", hotel.file, CASE, hotel.table("bill.txt", "abc"), "--what", "receipt")
    again = hotel.table("again.txt", "abc")
    said = hotel("keep-paper", hotel.file, CASE, again, "--what", "other", exit_code=1)
    assert "kept with the case already: bill.txt" in said
    kept_log = log(hotel, 48, 150)
    hotel("probe-log", hotel.file, CASE, "102", kept_log)
    assert "log.csv" in hotel("keep-paper", hotel.file, CASE, kept_log, exit_code=1)
    with closing(sqlite3.connect(hotel.file)) as plain:
        assert plain.execute("SELECT count(*) FROM paper_kept").fetchone() == (1,)


def test_a_paper_of_no_case_and_a_program_are_not_kept(confirmed):
    hotel = confirmed
    bill = hotel.table("bill.txt", "abc")
    assert "2026-009" in hotel("keep-paper", hotel.file, "2026-009", bill, exit_code=1)
    program = hotel.table("bill.exe", "abc")
    assert "bill.exe is no kind" in hotel("keep-paper", hotel.file, CASE, program, exit_code=1)
    assert not (hotel.folder / "inn.papers").exists()


def test_a_paper_taken_back_can_be_kept_again(confirmed):
    hotel = confirmed
    bill = hotel.table("bill.txt", "abc")
    hotel("keep-paper", hotel.file, CASE, bill, "--what", "notice")
    with closing(sqlite3.connect(hotel.file)) as plain:
        entry = plain.execute("SELECT entry FROM paper_kept").fetchone()[0]
    hotel("take-back", hotel.file, entry, "--reason", "a receipt")
    said = hotel("keep-paper", hotel.file, CASE, bill, "--what", "receipt")
    assert said.startswith("Receipt kept: bill.txt")
