from __future__ import annotations

import re
import zipfile
from datetime import UTC, date, datetime, timedelta
from functools import cache
from pathlib import Path

import openpyxl
import pytest
import python_calamine

from hotelwatch.core.case_facts import (
    CaseJudged,
    CheckAsked,
    Outcome,
    QuarantineLifted,
    QuarantinePlaced,
    Sighted,
    Sign,
)
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.facts import (
    BedChecked,
    BedNo,
    CaseNo,
    CheckKind,
    CycleChosen,
    HotelDescribed,
    MonthClosed,
    RoomChecked,
    RoomNo,
    RoundPublished,
    Scope,
    SlotPublished,
    TeamName,
)
from hotelwatch.core.house import House
from hotelwatch.core.month.figures import figures
from hotelwatch.core.month.rows import MonthFigures
from hotelwatch.core.people_facts import TrainingRecorded, TrainingTopic
from hotelwatch.core.round_facts import SeasonNoted
from hotelwatch.core.treatment_facts import TreatmentRecorded
from hotelwatch.core.trial_facts import DummyEnded, DummyFate, DummyHidden
from hotelwatch.papers.book_claims import Claims
from hotelwatch.papers.month_book import write_month_book
from hotelwatch.papers.month_record import RecordProof, limit_lines
from hotelwatch.papers.month_summary import lines_of, opening_lines
from hotelwatch.papers.sheets import LONGEST_TITLE
from hotelwatch.wording import language
from tests.build import Build, day, house, moment
from tests.papers.office import SOFFICE, converted, needs_office
from tests.wording.in_books import said_in_books

PROOF = RecordProof(42, "c0ffee" * 10, ())
CLAIMS = Claims(
    "month",
    "2026-02",
    datetime(2026, 3, 2, 9, tzinfo=UTC),
    "en",
    "hotelwatch test",
    "1dea" * 16,
    42,
    "c0ffee" * 10,
)
R = {number: RoomNo(number) for number in ("0101", "0102", "0103", "0104")}
CASE, OTHER = CaseNo("2026-001"), CaseNo("2026-002")
LATER = datetime(2026, 3, 2, 9, tzinfo=UTC)


def at(room: str, build: Build) -> Build:
    build._room = RoomNo(room)
    return build


@cache
def a_house() -> House:
    """January 2026 closed, then February: late looks, cases, quarantines, a correction."""
    built = house().record(CycleChosen(Scope.HOUSE, "", 20)).team("north")
    built.record(HotelDescribed("=House & Sons", "Europe/Vienna", "Letter"))
    for number in R:
        built.room(number).bed("A").bed("B", "platform", encased=number == "0103")
    built.record(
        RoundPublished(day(0), day(60)),
        SlotPublished(day(4), TeamName("north"), 1, R["0101"], ("0101/A", "0101/B"), 30),
        SlotPublished(day(30), TeamName("north"), 1, R["0102"], ("0102/A",), 20),
    )
    at("0101", built).on(4).checked("A", day(4)).checked("B", day(4), noted="=2+2")
    built.on(28).record(MonthClosed("2026-01"))
    built.on(30).checked("A", day(6), minutes=9)
    at("0102", built).on(31).checked("A", day(31), by=("@carla",), minutes=21)
    built.checked("B", day(31), seen=("bedding",), unseen=("platform_underneath:no_time",))
    built.on(31).record(
        RoomChecked(R["0102"], day(31), CheckKind.DEEP, ("carla",), ("skirting",), noted="-damp")
    )
    built.on(32).record(
        Sighted(
            CASE, R["0102"], "0102/A", "base_staple_line", Sign.CAST_SKIN, 2, "carla", moment(32)
        ),
        QuarantinePlaced(R["0102"], CASE, moment(32), "sighting"),
        CheckAsked(CASE, R["0101"], ("shares_wall",), moment(33)),
    )
    built.on(34).record(CaseJudged(CASE, Outcome.CONFIRMED, "Dr Moth", "entomologist", day(34)))
    built.record(
        TreatmentRecorded(
            CASE, R["0102"], day(35), "heat", "Firm of tests", "L-0042", moment(36), "as reported"
        )
    )
    built.on(40).record(
        QuarantineLifted(R["0102"], CASE, moment(40), "eva", False, "wedding party"),
        Sighted(OTHER, R["0104"], "", "", Sign.GUEST_WORD, 0, "night desk", moment(40)),
        QuarantinePlaced(R["0104"], OTHER, moment(40), "sighting"),
    )
    built.on(41).record(
        CaseJudged(OTHER, Outcome.NOT_BED_BUG, "Dr Moth", "entomologist", day(41)),
        QuarantineLifted(R["0104"], OTHER, moment(41), "eva", True),
    )
    built.on(33).record(RuleChosen("sign_off", "named"))
    built.record(
        TrainingRecorded("anna", TrainingTopic.LIFTING, "español", day(33), "Dr Moth"),
        DummyHidden("d1", R["0101"], "", "skirting", day(30), "eva"),
        DummyHidden("d2", R["0103"], "", "curtains", day(30), "eva"),
        DummyEnded("d1", R["0101"], day(34), False, (), DummyFate.COLLECTED),
    )
    built.stays(("0103", 1, 55), ("0102", 33, 35), ("0104", 12, 14))
    return built.house


@cache
def february() -> MonthFigures:
    return figures(a_house(), "2026-02", now=LATER)


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("book") / "february.xlsx"
    write_month_book(path, february(), claims=CLAIMS, proof=PROOF)
    return path


@pytest.fixture(scope="module")
def recalculated(book: Path) -> Path:
    return converted(book)


def rows_of(path: Path, sheet: str) -> list[dict[str, object]]:
    """A sheet's table as the second reader finds it: rows by heading."""
    rows = python_calamine.load_workbook(path).get_sheet_by_name(sheet).to_python()
    top = int(re.findall(r"\d+", openpyxl.load_workbook(path)[sheet].print_title_rows)[0])
    return [dict(zip(rows[top - 1], row, strict=True)) for row in rows[top:] if any(row)]


def tables_of(path: Path) -> dict[str, int]:
    """Each table of a workbook with its rows that hold anything, as openpyxl finds them."""
    found = {}
    for sheet in openpyxl.load_workbook(path):
        for table in sheet.tables.values():
            _heading, *rows = sheet[table.ref]
            found[table.name] = sum(any(cell.value is not None for cell in row) for row in rows)
    return found


def text_of(path: Path) -> str:
    """Every text of the workbook."""
    book = python_calamine.load_workbook(path)
    cells = (
        cell
        for name in book.sheet_names
        for row in book.get_sheet_by_name(name).to_python()
        for cell in row
    )
    return "\n".join(str(cell) for cell in cells if cell != "")


@needs_office
def test_each_number_of_the_summary_is_what_its_formula_counts(recalculated: Path) -> None:
    rows = rows_of(recalculated, "Summary")

    assert len(rows) == len(lines_of(february())) + len(tables_of(recalculated)) - 2
    for row in rows:
        program, file = row["As counted by the program"], row["As counted by this file"]
        assert isinstance(file, float), row
        assert file == pytest.approx(program, abs=0.005), row
        assert row["Do both agree"] == "agrees"


def test_the_rows_of_each_table_stand_beside_the_digest(book: Path) -> None:
    held = tables_of(book)
    rows = {row["Its name in formulas"]: row for row in rows_of(book, "Summary")}
    told = {name: rows[f"rows_{name}"] for name in held if name not in ("summary", "book")}

    assert len(told) > 25
    for name, row in told.items():
        assert row["As counted by the program"] == held[name], name
    head = "\n".join(
        str(cell.value) for (cell,) in openpyxl.load_workbook(book)["Summary"]["A1:A6"]
    )
    assert f"Entries 1 to {max(a_house().entries)}" in head


@needs_office
def test_a_table_changed_later_shows_on_the_summary(book: Path, tmp_path: Path) -> None:
    changed = openpyxl.load_workbook(book)
    sheet = changed["Due and done"]
    cell = next(c for row in sheet.iter_rows() for c in row if c.value == "not looked at")
    cell.value = "looked at in time"
    changed.save(tmp_path / "changed.xlsx")

    rows = rows_of(converted(tmp_path / "changed.xlsx"), "Summary")

    assert [row["What"] for row in rows if row["Do both agree"] == "differs"] == [
        "Of these looked at in time",
        "Of these not looked at",
    ]


@needs_office
def test_no_cell_of_the_recalculated_book_is_an_error(recalculated: Path) -> None:
    assert not re.search(r"#(REF|NAME|VALUE|N/A|DIV)|Err:", text_of(recalculated))


@needs_office
def test_the_book_says_the_same_in_open_document_format(book: Path) -> None:
    # ISO/IEC 26300: the same numbers by way of another format.
    for row in rows_of_ods(converted(book, "ods")):
        assert row[1] == pytest.approx(row[2], abs=0.005)
        assert row[3] == "agrees"


def rows_of_ods(path: Path) -> list[list]:
    rows = python_calamine.load_workbook(path).get_sheet_by_name("Summary").to_python()
    top = next(number for number, row in enumerate(rows) if row[0] == "What")
    return [row for row in rows[top + 1 :] if row[0]]


def test_the_second_reader_finds_every_row_with_its_values(book: Path) -> None:
    found = february().rows
    expected = {
        "Due and done": len(found.due),
        "Last looks": 8,
        "Checks": len(found.checks),
        "Sightings": 2,
        "Cases": 2,
        "Checks asked for": 1,
        "Quarantines": 2,
        "Let in quarantine": 1,
        "Treatments": 1,
        "Staff hours": len(found.team_days),
        "Staff by name": len(found.people),
        "Late entries and corrections": len(found.changes),
        "Figures and sources": len(february().used),
        "Rooms": 4,
        "Deadlines": len(february().pages.clocks),
        "Lifting": len(february().pages.lifts),
        "Training due": len(february().pages.training_states),
        "Changes of policy": len(february().pages.policy),
        "Hours and cost": 3,
        "Training": 1,
        "Blind trials": 1,
    }

    assert {sheet: len(rows_of(book, sheet)) for sheet in expected} == expected
    assert min(expected.values()) > 0


def test_rooms_are_text_and_days_are_days(book: Path) -> None:
    for row in rows_of(book, "Last looks"):
        assert row["Room"] in R
        assert isinstance(row["Next due on"], date)
    looked = {row["Bed"]: row["Underside last looked at"] for row in rows_of(book, "Last looks")}
    assert looked["0102/A"] == day(31)
    assert looked["0102/B"] == ""
    cells = [c for row in openpyxl.load_workbook(book)["Last looks"].iter_rows() for c in row]
    assert {c.number_format for c in cells if c.is_date} == {"yyyy-mm-dd"}


def test_what_people_typed_stays_text(book: Path) -> None:
    formulas = [
        (sheet.title, cell.value)
        for sheet in openpyxl.load_workbook(book).worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
    ]

    assert {title for title, _ in formulas} == {"First page", "Summary", "Rooms", "Hours and cost"}
    assert {row["Looked by"] for row in rows_of(book, "Checks")} == {
        "@carla",
        "carla",
        "anna, boris",
    }
    assert "-damp" in {row["Note"] for row in rows_of(book, "Checks")}


def test_last_looks_agree_with_reading_the_facts_one_by_one(book: Path) -> None:
    """Counted another way: plain loops over the facts, with the list of resources/beds.toml."""
    facts = a_house()
    last: dict[str, date] = {}
    for kept in facts.kept[BedChecked]:
        check = kept.fact
        bed = facts.beds[BedNo(check.bed)]
        kind = facts.rules.bed_kinds[bed.kind]
        places = kind.encased_places if bed.encased else kind.places
        if {p.code for p in places if p.underside} <= set(check.seen):
            last[check.bed] = max(check.checked_on, last.get(check.bed, check.checked_on))

    for row in rows_of(book, "Last looks"):
        looked = last.get(str(row["Bed"]))
        assert row["Underside last looked at"] == (looked or "")
        if looked:
            assert row["Next due on"] == looked + timedelta(days=20)
            assert row["Days since"] == (date(2026, 2, 28) - looked).days


def test_staff_minutes_agree_with_reading_the_facts_one_by_one(book: Path) -> None:
    minutes = people = 0
    for kept in a_house().kept[BedChecked]:
        if f"{kept.fact.checked_on:%Y-%m}" == "2026-02":
            minutes += kept.fact.minutes
            people += kept.fact.minutes * len(kept.fact.by)
    rows = rows_of(book, "Staff hours")

    assert sum(row["Minutes recorded"] for row in rows) == minutes
    assert sum(row["People-hours"] for row in rows) == pytest.approx(people / 60)


def test_a_case_names_who_confirmed_it_and_when(book: Path) -> None:
    row = next(row for row in rows_of(book, "Cases") if row["Case"] == CASE)

    assert (row["Judgement"], row["Judged by"], row["Competent through"], row["Judged on"]) == (
        "Bed bug confirmed",
        "Dr Moth",
        "entomologist",
        day(34),
    )


def test_a_quarantine_tells_from_until_by_whom_and_on_what(book: Path) -> None:
    rows = {row["Room"]: row for row in rows_of(book, "Quarantines")}

    # 09:00 UTC is 10:00 in Vienna in February (IANA Europe/Vienna).
    assert rows["0102"]["From"] == datetime(2026, 2, 6, 10)
    assert rows["0102"]["Until"] == datetime(2026, 2, 14, 10)
    assert (rows["0102"]["Lifted by"], rows["0102"]["Lifted because of"]) == (
        "eva",
        "a person's reason",
    )
    assert rows["0102"]["Reason given"] == "wedding party"
    assert rows["0104"]["Lifted because of"] == "its conditions"


def test_a_late_entry_about_the_closed_month_is_told(book: Path) -> None:
    row = rows_of(book, "Late entries and corrections")[0]

    assert (row["Concerns month"], row["What happened"]) == ("2026-01", "written down late")
    assert "looked at on: 2026-01-11" in str(row["New"])
    assert "looked at: Bedding, layer by layer, Mattress top" in str(row["New"])
    assert "kind: Deep check" in str(row["New"])


def test_every_sheet_prints_in_landscape_on_the_hotels_paper(book: Path) -> None:
    for sheet in openpyxl.load_workbook(book).worksheets:
        assert sheet.protection.sheet
        assert sheet.protection.password is None
        assert str(sheet.page_setup.paperSize) == "1", sheet.title
        assert sheet.page_setup.orientation == "landscape"
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert sheet.oddFooter.left.text == "=House && Sons – February 2026"


def test_the_last_page_says_on_what_the_book_rests(book: Path) -> None:
    text = text_of(book)
    last = max(a_house().entries)

    assert f"It rests on entries 1 to {last}" in text
    assert "42 entries, and every digest agrees" in text
    assert PROOF.last_digest in text
    assert "Wang, Singh, Zha, Cooper 2016" in text
    assert "Assumption, nobody measured it" in text


def test_a_record_that_is_not_in_order_or_was_not_verified_says_so(tmp_path: Path) -> None:
    bad = RecordProof(42, "c0ffee", ("Entry 7: its digest does not agree.",))
    for proof, words in (
        (bad, "NOT in order"),
        (bad, "Entry 7: its digest does not agree."),
        (None, "was not verified"),
    ):
        write_month_book(tmp_path / "b.xlsx", february(), claims=CLAIMS, proof=proof)
        assert words in text_of(tmp_path / "b.xlsx")
        assert "every digest agrees" not in text_of(tmp_path / "b.xlsx")


def test_the_book_never_says_that_a_room_is_free_of_anything(book: Path) -> None:
    said = text_of(book).lower()

    for phrase in ("free of", "bug-free", "bedbug free", "bug free", "guarantee", "clean bill"):
        assert phrase not in said


def test_the_opening_lines_account_for_every_underside_that_was_due() -> None:
    running = figures(a_house(), "2026-02", now=moment(45))
    counts, said = running.counts, " ".join(opening_lines(running))

    assert counts.ahead > 0
    named = counts.in_time + counts.late + counts.not_done + counts.ahead
    assert named + counts.no_longer_due == counts.due
    assert f"{counts.due} underside" in said
    assert f"Due later this month: {counts.ahead}." in said


def test_an_empty_hotel_makes_a_book_that_opens(tmp_path: Path) -> None:
    empty = figures(house().house, "2026-01", now=LATER)
    write_month_book(tmp_path / "empty.xlsx", empty, claims=CLAIMS)

    assert "Nothing to list here." in text_of(tmp_path / "empty.xlsx")


@needs_office
def test_an_empty_hotel_counts_nothing(tmp_path: Path) -> None:
    empty = figures(house().house, "2026-01", now=LATER)
    write_month_book(tmp_path / "empty.xlsx", empty, claims=CLAIMS)

    held = tables_of(tmp_path / "empty.xlsx")
    for row in rows_of(converted(tmp_path / "empty.xlsx"), "Summary"):
        name = str(row["Its name in formulas"])
        # The hotel's own description is the one thing that was written down.
        expected = 1 if name == "policy_changes" else held.get(name.removeprefix("rows_"), 0)
        assert row["As counted by this file"] == expected, row
        assert row["Do both agree"] == "agrees"


@needs_office
def test_formulas_count_in_another_language_too(tmp_path: Path) -> None:
    language.use(language.PSEUDO)
    try:
        write_month_book(tmp_path / "pseudo.xlsx", february(), claims=CLAIMS)
    finally:
        language.use(language.SOURCE)
    book = python_calamine.load_workbook(converted(tmp_path / "pseudo.xlsx"))
    rows = book.get_sheet_by_name(book.sheet_names[1]).to_python()
    numbers = [row for row in rows if isinstance(row[1], float)]

    assert len(numbers) > len(lines_of(february()))
    for row in numbers:
        assert row[2] == pytest.approx(row[1], abs=0.005), row


@needs_office
def test_formulas_count_in_spanish_and_its_words_are_spanish(tmp_path: Path) -> None:
    with language.speaking("es"):
        write_month_book(tmp_path / "es.xlsx", february(), claims=CLAIMS, proof=PROOF)
    rows = rows_of(converted(tmp_path / "es.xlsx"), "Resumen")

    assert len(rows) > len(lines_of(february()))
    for row in rows:
        counted = row["Contado por este archivo"]
        assert counted == pytest.approx(row["Contado por el programa"], abs=0.005), row
        assert row["Coinciden ambos"] == "coincide"
    assert "no revisada" in text_of(tmp_path / "es.xlsx")
    assert "Ningún hablante nativo" in text_of(tmp_path / "es.xlsx")
    assert "figuran como se escribieron" in text_of(tmp_path / "es.xlsx")
    names = python_calamine.load_workbook(tmp_path / "es.xlsx").sheet_names
    assert max(map(len, names)) < LONGEST_TITLE, "a page's name would be cut there"
    written = set(text_of(tmp_path / "es.xlsx").split("\n"))
    with language.speaking("es"):
        english = {text for text in said_in_books() if text != language._(text)}
    # What a book claims of itself has the same names everywhere, for programs.
    assert english & written == {"language", "month"}


@pytest.mark.parametrize("code", [code for code in language.available() if code != "en"])
def test_a_book_can_be_written_in_every_language_that_papers_speak(
    tmp_path: Path, code: str
) -> None:
    with language.speaking(code):
        write_month_book(tmp_path / "b.xlsx", february(), claims=CLAIMS)
    assert len(python_calamine.load_workbook(tmp_path / "b.xlsx").sheet_names) > 20


def test_a_hotel_that_wants_initials_names_nobody(tmp_path: Path) -> None:
    known = house().record(RuleChosen("names_outside", "initials"))
    known.room("0101").bed("A").checked("A", day(2), by=("Xandra Quill", "Yorick Zobel"))
    known.record(
        Sighted(CASE, R["0101"], "", "", Sign.CAST_SKIN, 1, "Xandra Quill", moment(3)),
        QuarantinePlaced(R["0101"], CASE, moment(3), "sighting"),
        QuarantineLifted(R["0101"], CASE, moment(9), "Yorick Zobel", False, "seen twice"),
    )
    told = figures(known.house, "2026-01", now=LATER)
    write_month_book(tmp_path / "b.xlsx", told, claims=CLAIMS)
    text = text_of(tmp_path / "b.xlsx")
    assert "Quill" not in text
    assert "Zobel" not in text
    assert "X. Q." in text
    assert "Y. Z." in text


def test_where_a_dummy_of_an_open_trial_lies_stands_nowhere(tmp_path: Path) -> None:
    known = house().room("0101").bed("A")
    known.record(DummyHidden("d-open", R["0101"], "", "luggage_rack", day(2), "eva"))
    hiding = max(known.house.entries)
    again = DummyHidden("d-open", R["0101"], "", "night_stands", day(2), "eva")
    known.record(again, corrects=hiding, note="moved")
    write_month_book(tmp_path / "b.xlsx", figures(known.house, "2026-01", now=LATER), claims=CLAIMS)
    assert rows_of(tmp_path / "b.xlsx", "Blind trials") == []
    assert "d-open" not in text_of(tmp_path / "b.xlsx")


def test_a_trial_told_after_its_month_was_closed_stands_in_the_next_book() -> None:
    known = house().room("0101").bed("A")
    known.record(DummyHidden("d", R["0101"], "", "skirting", day(2), "eva"))
    known.on(30).record(MonthClosed("2026-01"))
    known.on(31).record(DummyEnded("d", R["0101"], day(5), False, (), DummyFate.COLLECTED))
    known.on(58).record(MonthClosed("2026-02"))
    of = {
        month: figures(known.house, month, now=datetime(2026, 4, 2, tzinfo=UTC)).pages.trials
        for month in ("2026-01", "2026-02", "2026-03")
    }
    assert [len(rows) for rows in of.values()] == [0, 1, 0]
    assert of["2026-02"][0].is_late


def test_results_that_a_file_brings_along_are_not_believed_by_the_second_program(
    tmp_path: Path, book: Path
) -> None:
    """Else the checks above would only read back what we wrote."""
    if SOFFICE is None:
        pytest.skip("LibreOffice is not installed")
    lying = tmp_path / "lying.xlsx"
    with zipfile.ZipFile(book) as whole, zipfile.ZipFile(lying, "w") as changed:
        for part in whole.infolist():
            xml = whole.read(part)
            if part.filename == "xl/worksheets/sheet2.xml":
                xml = re.sub(rb"(<f>[^<]*</f>)<v>[0-9.]+</v>", rb"\1<v>999</v>", xml)
            changed.writestr(part, xml)
    values = {row["As counted by this file"] for row in rows_of(lying, "Summary")}
    assert values == {999.0}
    for row in rows_of(converted(lying), "Summary"):
        assert row["Do both agree"] == "agrees"


def test_the_same_record_makes_the_same_book(tmp_path: Path, book: Path) -> None:
    again = tmp_path / "again.xlsx"
    write_month_book(again, february(), claims=CLAIMS, proof=PROOF)

    assert again.read_bytes() == book.read_bytes()


def test_a_season_stands_in_the_book_as_an_assumption() -> None:
    built = house().record(CycleChosen(Scope.HOUSE, "", 20)).room("101").bed("A")
    built.record(SeasonNoted("after the fair", day(28), day(40), 50))
    said = limit_lines(figures(built.house, "2026-02", now=LATER))
    (line,) = (line for line in said if "after the fair" in line)
    assert "each day counts as 1.5 days of a cycle" in line
    assert "assumption" in line
