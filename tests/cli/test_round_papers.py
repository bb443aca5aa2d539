"""A round taken elsewhere by command: its page and its calendar."""

from __future__ import annotations

import re

import pytest


@pytest.fixture
def planned(hotel):
    hotel("team", hotel.file, "Early", "--minutes", "200")
    hotel("team", hotel.file, "Late", "--minutes", "100")
    hotel("cycle", hotel.file, "5")
    said = hotel("plan", hotel.file, "--publish", "--days", "5")
    hotel.table("plan.txt", said)
    return hotel


def test_the_page_of_the_published_round(planned):
    pytest.importorskip("PySide6", reason="this run leaves Qt out")
    from pypdf import PdfReader

    said = planned("round-page", planned.file)
    (page,) = planned.folder.glob("*.pdf")
    assert page.name == "inn-round-2026-03-09.pdf"
    assert str(page) in said
    text = " ".join(PdfReader(page).pages[0].extract_text().split())
    listed = (planned.folder / "plan.txt").read_text("utf-8")
    firm = [line for line in listed.splitlines() if line.endswith("fixed")]
    assert firm
    for room in ("101", "102", "103", "104"):
        assert text.count(room) == len(re.findall(rf"\b{room}\b", "\n".join(firm)))


def test_a_room_that_was_looked_at_today_is_no_work_in_the_plan(planned):
    today = [line.split() for line in planned("plan", planned.file, "--days", "1").splitlines()]
    rooms = {words[5] for words in today if words[-1] == "fixed"}
    assert rooms
    room = min(rooms)
    planned("record", planned.file, room, "--who", "anna", "--who", "boris")
    said = planned("plan", planned.file, "--days", "1").splitlines()
    (line,) = [line for line in said if line.split()[5:6] == [room]]
    assert line.endswith("looked at already")


def test_the_page_of_a_draft_and_of_a_month(planned):
    pytest.importorskip("PySide6", reason="this run leaves Qt out")
    from pypdf import PdfReader

    for words, said in (
        (("--month", "2026-03"), "Round, March 2026"),
        (("--draft",), "Draft of a round"),
        (("--draft", "--days", "35"), "Sun 12 Apr 2026"),
    ):
        page = planned.folder / "page.pdf"
        planned("round-page", planned.file, "--to", page, *words)
        assert said in " ".join(PdfReader(page).pages[0].extract_text().split())


def test_a_page_in_each_language_of_its_teams_or_in_those_named(planned):
    pytest.importorskip("PySide6", reason="this run leaves Qt out")
    from pypdf import PdfReader

    page = planned.folder / "page.pdf"
    planned("team", planned.file, "Early", "--language", "es")
    for words, titles in (
        ((), ["Draft of a round, Mon", "Borrador de una ronda, del lun"]),
        (("--language", "fr", "--language", "pl"), ["Projet de tournée", "Projekt obchodu"]),
    ):
        planned("round-page", planned.file, "--draft", "--to", page, *words)
        texts = [" ".join(one.extract_text().split()) for one in PdfReader(page).pages]
        assert len(texts) == len(titles)
        assert all(title in text for title, text in zip(titles, texts, strict=True))
    said = planned("round-page", planned.file, "--language", "zh", exit_code=1)
    assert "Choose one of these: en, ar, es, fr, pl, pt, vi, zh_Hans." in said


def test_the_calendar_of_the_published_round(planned):
    planned("calendar", planned.file)
    (file,) = planned.folder.glob("*.ics")
    text = file.read_bytes()
    assert text.startswith(b"BEGIN:VCALENDAR\r\n")
    assert b"DTSTAMP:20260309T073000Z" in text
    assert b"STATUS:CONFIRMED" in text


def test_a_calendar_for_each_team(planned):
    planned("calendar", planned.file, "--each-team", planned.folder / "cal")
    files = sorted((planned.folder / "cal").iterdir())
    assert {file.suffix for file in files} == {".ics"}
    whole = planned.folder / "all.ics"
    planned("calendar", planned.file, "--to", whole)
    assert whole.read_bytes().count(b"BEGIN:VEVENT") == sum(
        file.read_bytes().count(b"BEGIN:VEVENT") for file in files
    )


def test_a_drafts_calendar_is_tentative(planned):
    file = planned.folder / "draft.ics"
    planned("calendar", planned.file, "--draft", "--days", "7", "--to", file)
    assert b"STATUS:TENTATIVE" in file.read_bytes()
    assert b"STATUS:CONFIRMED" not in file.read_bytes()


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        (("--month", "2026-13"), 1, "2026-13 is no month."),
        (("--month", "2026-04"), 1, "No team has a room from Wed 1 Apr 2026 to"),
        (("--team", "Night"), 1, "There is no team Night."),
        (("--days", "5"), 2, "add --draft"),
        (("--draft", "--month", "2026-03"), 2, "leave --month or --draft out"),
        (("--each-team", "cal", "--team", "Early"), 2, "leave --team and --to out"),
        (("--to", "round.txt"), 1, "Let the name end in .ics."),
    ],
)
def test_what_can_not_be_meant_is_refused(planned, words, code, said):
    assert said in " ".join(planned("calendar", planned.file, *words, exit_code=code).split())


def test_nothing_published_ahead_is_said(hotel):
    assert "No round is published from today on." in hotel("calendar", hotel.file, exit_code=1)


def test_a_calendar_is_told_of_a_round_that_was_taken_back(planned):
    file, listed = planned.folder / "round.ics", planned("list", "entries", planned.file)
    planned("calendar", planned.file, "--to", file)
    before = file.read_bytes()
    (entry,) = re.findall(r"^ *(\d+) .*Round published", listed, re.MULTILINE)
    planned("take-back", planned.file, entry, "--reason", "by mistake")
    planned("calendar", planned.file, "--to", file)
    after = file.read_bytes()
    assert after.count(b"STATUS:CANCELLED") == before.count(b"STATUS:CONFIRMED") > 0
    assert b"STATUS:CONFIRMED" not in after
    said = planned("round-page", planned.file, "--to", planned.folder / "no.pdf", exit_code=1)
    assert "No round is published from today on." in said
