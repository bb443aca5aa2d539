"""Teams' languages and the sheets of cases, by command."""

from __future__ import annotations

import pytest

from hotelwatch.wording import language

pytest.importorskip("PySide6", reason="sheets are printed with Qt")


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def text_of(path):
    from pypdf import PdfReader

    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(path).pages)


@pytest.fixture
def sighted(hotel):
    hotel("team", hotel.file, "Dawn", "--minutes", 120, "--language", "es", "--by", "maria")
    hotel("sighting", hotel.file, "102", "live_insect", "--by", "maria")
    return hotel


def test_a_cases_sheet_is_printed_in_the_teams_language_or_in_the_one_named(sighted, tmp_path):
    case = "2026-001"
    spanish, french = tmp_path / "es.pdf", tmp_path / "fr.pdf"
    said = sighted("case-sheet", sighted.file, case, spanish, "--team", "Dawn")
    assert said.startswith(f"{spanish}: ")
    text = text_of(spanish)
    assert "Hoja del caso 2026-001" in text
    for room in ("101", "102", "103"):
        assert text.count(f"Habitación {room} Piso 1") == 1
    assert "Habitación 104" not in text
    # Who goes need not know what was found.
    assert "insect" not in text.lower()
    sighted("case-sheet", sighted.file, case, french, "--team", "Dawn", "--language", "fr")
    assert "Feuille du cas 2026-001" in text_of(french)


def test_a_rounds_sheet_follows_its_teams_language_too(sighted, tmp_path):
    sighted("plan", sighted.file, "--publish", "--by", "maria")
    sighted("sheet", sighted.file, "--folder", tmp_path)
    (printed,) = tmp_path.glob("sheet-*.pdf")
    assert "Hoja de revisión" in text_of(printed)
    sighted("sheet", sighted.file, "--folder", tmp_path, "--language", "en")
    assert "Round sheet" in text_of(printed)
    sighted("team", sighted.file, "Dawn", "--language", "", "--by", "maria")
    sighted("sheet", sighted.file, "--folder", tmp_path)
    assert "Round sheet" in text_of(printed)


def test_a_language_that_is_not_there_is_refused_with_those_there_are(sighted, tmp_path):
    named = ("--language", "tlh")
    for words in (
        ("team", sighted.file, "Dawn", *named, "--by", "maria"),
        ("sheet", sighted.file, "--folder", tmp_path, *named),
        ("case-sheet", sighted.file, "2026-001", tmp_path / "x.pdf", "--team", "Dawn", *named),
    ):
        said = sighted(*words, exit_code=1)
        assert "tlh" in said
        assert "en, ar, es" in said
    assert not (tmp_path / "x.pdf").exists()


def test_a_table_of_teams_may_name_their_languages(hotel):
    table = hotel.table(
        "teams.csv", "team,people,minutes,works_on,language\nDawn,2,120,mon tue,zh_Hans\n"
    )
    hotel("teams", hotel.file, table, "--by", "maria")
    wrong = hotel.table(
        "wrong.csv", "team,people,minutes,works_on,language\nDusk,2,120,mon tue,runes\n"
    )
    assert "runes" in hotel("teams", hotel.file, wrong, "--by", "maria", exit_code=1)
