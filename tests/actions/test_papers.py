"""Papers kept with a case, as written to a hotel's file."""

from __future__ import annotations

from hashlib import sha256

import pytest

from hotelwatch.actions.cases import log_sighting
from hotelwatch.actions.joining import join_cases
from hotelwatch.actions.treatment import PAPER_ENDINGS, keep_paper
from hotelwatch.core.case_facts import CasesJoined, Sighted, Sign
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.cases.story import story_of
from hotelwatch.core.cases.treatment import papers_of_case
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.problems import Refusal
from hotelwatch.core.treatment_facts import PaperKept, PaperKind
from hotelwatch.store import kept_files
from hotelwatch.store.kept_files import kept_file


@pytest.fixture
def bill(tmp_path):
    path = tmp_path / "bill.pdf"
    path.write_bytes(b"%PDF-1.7 made for a test")
    return path


def log(hotel, room="102") -> CaseNo:
    sighted = Sighted(CaseNo(""), RoomNo(room), "", "", Sign.LIVE_INSECT, 1, "maria", hotel.now())
    return log_sighting(hotel, sighted)


def papers(hotel, case):
    return [row.fact for row in hotel.house.kept_of_case(PaperKept, case)]


def test_a_paper_lies_beside_the_file_under_its_digest(hotel, bill):
    case = log(hotel)
    kept = keep_paper(hotel, case, bill, what=PaperKind.RECEIPT)
    digest = sha256(bill.read_bytes()).hexdigest()
    assert kept == PaperKept(case, digest, "bill.pdf", PaperKind.RECEIPT, hotel.by)
    assert papers(hotel, case) == [kept]
    bill.unlink()
    assert kept_file(hotel.path, digest).read_bytes() == b"%PDF-1.7 made for a test"
    (line,) = (x for x in story_of(hotel.house, case, now=hotel.now()) if x.code == "paper")
    assert (line.at, line.values["fact"]) == (hotel.now(), kept)


def test_a_paper_goes_where_its_case_goes_and_is_of_one_case_only_once(hotel, bill):
    first, second = log(hotel, "102"), log(hotel, "104")
    assert first != second
    for case in (first, second):
        keep_paper(hotel, case, bill, what=PaperKind.REPORT)
    other = bill.with_name("other.pdf")
    other.write_bytes(b"another")
    keep_paper(hotel, second, other, what=PaperKind.OTHER)
    join_cases(hotel, CasesJoined(second, first, "maria", "same guests"))
    assert len(papers(hotel, first)) == 3
    told = papers_of_case(hotel.house, first)
    assert [paper.file_name for paper in told] == ["bill.pdf", "other.pdf"]
    with pytest.raises(Refusal) as caught:
        keep_paper(hotel, first, other, what=PaperKind.REPORT)
    assert caught.value.code == "paper_kept_already"


@pytest.mark.parametrize(
    ("name", "code"),
    [("none.pdf", "no_such_file"), ("run.exe", "not_a_paper"), ("large.pdf", "paper_too_large")],
)
def test_what_cannot_be_kept_leaves_nothing_behind(hotel, tmp_path, monkeypatch, name, code):
    case = log(hotel)
    monkeypatch.setattr(kept_files, "LARGEST_BYTES", 8)
    (tmp_path / "run.exe").write_bytes(b"MZ")
    (tmp_path / "large.pdf").write_bytes(b"123456789")
    with pytest.raises(Refusal) as caught:
        keep_paper(hotel, case, tmp_path / name, what=PaperKind.REPORT)
    assert caught.value.code == code
    assert papers(hotel, case) == []
    assert not kept_files.folder_of(hotel.path).exists()


def test_a_paper_of_no_case_is_not_even_copied(hotel, bill):
    with pytest.raises(Refusal) as caught:
        keep_paper(hotel, CaseNo("2026-999"), bill, what=PaperKind.REPORT)
    assert caught.value.code == "unknown_case"
    assert not kept_files.folder_of(hotel.path).exists()


# Endings that the usual desktops run when one opens them: from memory.
def test_nothing_that_runs_when_opened_is_kept_as_a_paper():
    runs = {".exe", ".bat", ".cmd", ".com", ".scr", ".js", ".vbs", ".ps1", ".sh", ".lnk", ".jar"}
    runs |= {".desktop", ".hta", ".msi", ".docm", ".xlsm", ".html", ".svg", ""}
    assert runs.isdisjoint(PAPER_ENDINGS)


def test_the_case_of_an_ending_does_not_matter(hotel, bill):
    case = log(hotel)
    loud = bill.rename(bill.with_name("BILL.PDF"))
    assert keep_paper(hotel, case, loud, what=PaperKind.NOTICE).file_name == "BILL.PDF"
    assert case_of(hotel.house, case).is_open
