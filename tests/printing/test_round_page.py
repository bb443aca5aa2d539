from __future__ import annotations

import re
import shutil
import subprocess
from collections import Counter

import pytest

pytest.importorskip("PySide6", reason="this run leaves Qt out")

from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.facts import (
    CaseNo,
    HotelDescribed,
    RoomNo,
    RoundPublished,
    SlotPublished,
    TeamDescribed,
    TeamName,
)
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import HouseDaysClosed, TeamDaysChanged
from hotelwatch.core.rounds.month_page import month_page
from hotelwatch.core.rounds.team_days import Round, published_round
from hotelwatch.printing.page import GREY
from hotelwatch.printing.round_page import print_round
from hotelwatch.wording import language
from tests.build import day, house, moment

BLUE, RED = TeamName("Blue"), TeamName("Red")
EVERY_DAY = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")


def slot(on, team, position, room, **more):
    return SlotPublished(day(on), team, position, RoomNo(room), (f"{room}/A",), 20, **more)


def rooms(count):
    return [f"R{number:04}" for number in range(1, count + 1)]


def a_hotel(count, *, teams=(BLUE, RED), days=26, paper="A4"):
    """Every room once in so many days, shared out evenly."""
    build = house().record(HotelDescribed("Invented Inn", "Europe/Vienna", paper))
    for team in teams:
        build.record(TeamDescribed(team, 2, 240, EVERY_DAY))
    known = rooms(count)
    per_floor = 100
    described = build.room  # one entry a room would be slow for thousands
    for n, room in enumerate(known):
        described(room, floor="1", wing=f"Wing {n // per_floor}", order=n % per_floor + 1).bed("A")
    sheets = Counter()
    slots = []
    for n, room in enumerate(known):
        key = n * days // count, teams[n % len(teams)]
        sheets[key] += 1
        asked = "2026-001" if n == 3 else ""
        slots.append(slot(key[0], key[1], sheets[key], room, asked_by=asked))
    return build.record(RoundPublished(day(0), day(days - 1)), *slots)


def printed(build, path, first=0, last=25):
    told = published_round(build.house, day(first), day(last))
    return print_round(build.house, told, path, now=moment(0))


@pytest.fixture(scope="module")
def usual(tmp_path_factory, read_paper, qapp):
    language.use("en")
    build = a_hotel(63)
    build.record(
        Sighted(CaseNo("2026-001"), RoomNo("R0001"), "", "", Sign.LIVE_INSECT, 1, "x", moment(0)),
        HouseDaysClosed(day(26), day(26), "Shutdown"),
        TeamDaysChanged(RED, day(2), day(2), 0, "course"),
    )
    path = tmp_path_factory.mktemp("round") / "round.pdf"
    pages = printed(build, path, 0, 29)
    return build, pages, read_paper(path)


def test_sixty_three_rooms_stand_on_one_page_each_once(usual):
    _, pages, paper = usual
    assert (pages, len(paper.reader.pages)) == (1, 1)
    assert Counter(re.findall(r"R\d{4}", paper.text)) == Counter(rooms(63))


@pytest.mark.skipif(not shutil.which("pdftotext"), reason="pdftotext is not installed")
def test_a_second_reader_finds_each_room_once_too(usual):
    run = subprocess.run(
        ["pdftotext", "-layout", str(usual[2].path), "-"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert Counter(re.findall(r"R\d{4}", run.stdout)) == Counter(rooms(63))


def test_the_page_lies_and_is_of_the_hotels_paper(usual, tmp_path, read_paper):
    # ISO 216: A4 is 210 by 297 mm; ANSI/ASME Y14.1: Letter is 8.5 by 11 inches.
    assert usual[2].size_mm == pytest.approx((297, 210), abs=0.5)
    printed(a_hotel(5, paper="Letter"), tmp_path / "round.pdf")
    assert read_paper(tmp_path / "round.pdf").size_mm == pytest.approx((279.4, 215.9), abs=0.5)


def test_rooms_of_a_day_stand_in_walking_order(usual):
    build, _, paper = usual
    told = published_round(build.house, day(0), day(29))
    for one in month_page(build.house, told, day(0)).days:
        for team in one.teams:
            at = [paper.text.index(visit.room) for visit in team.rooms]
            assert at == sorted(at)


def test_an_asked_check_has_a_sign_and_a_word_and_the_legend_says_so(usual):
    text = usual[2].text.replace("\u00a0", " ")
    assert text.count("! R0004 asked") == 1
    assert "“! … asked”: a case asks for it." in text
    assert "2026-001" not in text


def test_minutes_had_and_used_moment_and_entry_are_said(usual):
    text = usual[2].text.replace("\u00a0", " ")
    assert "Blue: 48 of 240 min" in text
    assert re.search(r"As planned at Mon 5 Jan 2026, 10:\d\d CET, entry \d+", text)
    assert "Invented Inn" in text
    assert "A clean look does not prove a clean room." in text
    assert "assumptions unless you timed them" in text
    # The shipped figures: 8 minutes a corridor, 6 minutes a room, neither measured.
    told = "Ways to corridors: 8 min each; setting up: 6 min a room (Assumption, nobody measured"
    assert told in " ".join(text.split())


def test_days_without_a_team_say_why_and_are_grey(usual):
    _, _, paper = usual
    assert "Nobody looks at beds: Shutdown" in paper.text
    assert "Red is away: course" in paper.text
    # Days 27 to 29 are not in the round, and teams work: three days.
    assert paper.text.count("Not planned") == 3
    assert "Grey: no team, or not planned." in paper.text.replace("\u00a0", " ")
    content = paper.reader.pages[0].get_contents().get_data().decode("latin-1")
    shade = f"{GREY.redF():.3f}"[:4]
    assert len(re.findall(rf"{shade}\d* {shade}\d* {shade}\d* scn", content)) >= 4


def test_days_stand_side_by_side_and_weeks_one_below_the_other(usual):
    content = usual[2].reader.pages[0].get_contents().get_data().decode("latin-1")
    found = re.findall(r"(\S+) (\S+) (\S+) (\S+) re\nS", content)
    cells = sorted((float(y), float(x), float(w), float(h)) for x, y, w, h in found)
    assert len(cells) == 30
    for n, (y, x, width, height) in enumerate(cells):
        for other_y, other_x, *_ in cells[n + 1 :]:
            # Half a pixel is what rounding may take.
            assert other_y >= y + height - 0.5 or abs(other_x - x) >= width - 0.5
    assert len({round(y) for y, *_ in cells}) == 5
    assert len({round(x) for _, x, *_ in cells}) == 7


def test_a_month_is_named(tmp_path, read_paper):
    printed(a_hotel(5), tmp_path / "round.pdf", -4, 26)
    assert "Round, January 2026" in read_paper(tmp_path / "round.pdf").text


def test_a_draft_says_that_nobody_follows_it(tmp_path, read_paper):
    build = a_hotel(5)
    slots = tuple(s for on in build.house.slots.values() for s in on)
    print_round(
        build.house,
        Round(day(0), day(25), slots, {}, is_draft=True),
        tmp_path / "draft.pdf",
        now=moment(0),
    )
    text = read_paper(tmp_path / "draft.pdf").text
    assert "Draft of a round, Mon 5 Jan 2026 to Fri 30 Jan 2026" in text
    assert "no team follows it yet" in text


# --- languages -----------------------------------------------------------------------------


def test_there_is_a_page_in_each_language_of_its_teams(tmp_path, read_paper):
    build = a_hotel(9, teams=(BLUE, RED, TeamName("Green")))
    build.record(TeamDescribed(RED, 2, 240, EVERY_DAY, language="es"))
    build.record(TeamDescribed(BLUE, 2, 240, EVERY_DAY, language="en"))
    build.record(TeamDescribed(TeamName("Gone"), 2, 240, EVERY_DAY, language="fr", in_use=False))
    assert printed(build, tmp_path / "round.pdf") == 2
    english, spanish = read_paper(tmp_path / "round.pdf").pages
    assert "Round, Mon 5 Jan 2026" in english
    assert "Ronda, del lun, 5 ene 2026" in spanish
    assert "Rooms in walking order." in english
    assert "Habitaciones en el orden del recorrido." in spanish
    assert "Ningún hablante nativo ha revisado esta traducción." in spanish
    for page in (english, spanish):
        assert Counter(re.findall(r"R\d{4}", page)) == Counter(rooms(9))


@pytest.mark.parametrize("code", [code for code in language.available() if code != "en"])
def test_no_sentence_of_the_page_is_english_in_another_language(tmp_path, read_paper, code):
    build = a_hotel(63)
    build.record(
        HouseDaysClosed(day(26), day(26), "!"), TeamDaysChanged(RED, day(2), day(2), 0, "!")
    )
    told = published_round(build.house, day(0), day(29))
    path = tmp_path / "round.pdf"
    assert print_round(build.house, told, path, now=moment(0), languages=(code,)) == 1
    paper = read_paper(path)
    assert Counter(re.findall(r"R\d{4}", paper.text)) == Counter(rooms(63))
    for said in ("asked", "away", "Rooms", "walking", "Nobody", "team", "planned", "Ways", " of "):
        assert said not in paper.text.replace("\u00a0", " ")


@pytest.mark.skipif(not shutil.which("pdftotext"), reason="pdftotext is not installed")
@pytest.mark.parametrize("code", [c for c in language.available() if c not in ("ar", "zh_Hans")])
def test_no_word_is_broken_where_smaller_letters_keep_it_whole(tmp_path, code):
    """Another reader finds the minutes' words whole on each day of a page with large letters."""
    build = a_hotel(26, teams=(TeamName("Weekend pair"),))
    path = tmp_path / "round.pdf"
    told = published_round(build.house, day(0), day(25))
    print_round(build.house, told, path, now=moment(0), languages=(code,))
    run = subprocess.run(["pdftotext", path, "-"], capture_output=True, text=True, check=True)
    words = run.stdout.replace("\u00a0", " ").split()
    with language.speaking(code):
        minutes = language._("{used} of {minutes} min").format(used=28, minutes=240).split()
    assert [word for word in minutes if words.count(word) < 26] == []


def test_a_page_read_from_the_right_begins_its_week_at_the_right(tmp_path, read_paper):
    build = a_hotel(26)
    told = published_round(build.house, day(0), day(6))
    print_round(build.house, told, tmp_path / "round.pdf", now=moment(0), languages=("ar",))
    across = {piece.text: piece.x for piece in read_paper(tmp_path / "round.pdf").pieces()}
    of_room = [next(x for text, x in across.items() if room in text) for room in rooms(7)]
    assert of_room == sorted(of_room, reverse=True)


# --- too many for their numbers -----------------------------------------------------------


def numbers_in(paper):
    return re.findall(r"R\d{4}", paper.text)


COARSER = ("counted here by corridor", "for one page: counted, and", "each day is summed up")
"""What the page says of itself, from the finest count to the coarsest."""


def counted_on(folder, read_paper, count, teams):
    """How coarse a page counts, and how many rooms it counts."""
    path = folder / f"round-{count}-{teams}.pdf"
    names = tuple(TeamName(f"Team {n}") for n in range(1, teams + 1))
    pages = printed(a_hotel(count, teams=names), path)
    paper = read_paper(path)
    assert (pages, len(paper.reader.pages)) == (1, 1)
    assert numbers_in(paper) == []
    text = paper.text.replace("\u00a0", " ")
    assert "stand on each day's sheets" in text
    assert re.search(r"! asked: 1\b", text)
    (coarse,) = (level for level, said in enumerate(COARSER) if said in text)
    pattern = r"(\d+) rooms?,? ?" if coarse else r"1 Wing \d+: (\d+)"
    return coarse, sum(int(n) for n in re.findall(pattern, text))


@pytest.mark.parametrize(("count", "teams", "coarse"), [(600, 3, 0), (2000, 12, 2)])
def test_too_many_rooms_are_counted_and_the_page_says_so(
    tmp_path, read_paper, count, teams, coarse
):
    assert counted_on(tmp_path, read_paper, count, teams) == (coarse, count)


def test_more_teams_are_never_counted_finer_whatever_the_letters(tmp_path, read_paper):
    # Where a page turns coarser depends on the letters that the machine has.
    found = [counted_on(tmp_path, read_paper, 2000, teams) for teams in (4, 6, 12)]
    assert found == [(coarse, 2000) for coarse in sorted(coarse for coarse, _ in found)]


def test_nothing_is_smaller_than_eight_points_and_a_small_house_is_larger(usual, tmp_path):
    assert min(piece.size for piece in usual[2].pieces()) >= 9.0


def test_more_weeks_than_a_page_holds_are_refused(tmp_path):
    with pytest.raises(Refusal, match="too_many_weeks_for_page"):
        printed(a_hotel(5), tmp_path / "round.pdf", 0, 60)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(Refusal, match="no_such_folder"):
        printed(a_hotel(5), tmp_path / "missing" / "round.pdf")


@pytest.mark.skipif(not shutil.which("pdftotext"), reason="pdftotext is not installed")
@pytest.mark.parametrize("count", [63, 600])
@pytest.mark.parametrize("code", ["en", language.PSEUDO])
def test_no_word_leaves_its_page_or_stands_on_another(tmp_path, code, count):
    build = a_hotel(count, paper="Letter")
    build.record(TeamDaysChanged(RED, day(2), day(9), 0, "a very long reason " * 20))
    language.use(code)
    assert printed(build, tmp_path / "round.pdf") == 1
    run = subprocess.run(
        ["pdftotext", "-bbox", str(tmp_path / "round.pdf"), "-"],
        capture_output=True,
        text=True,
        check=True,
    )
    page = re.search(r'<page width="(\S+)" height="(\S+)"', run.stdout)
    width, height = float(page[1]), float(page[2])
    found = re.findall(r'<word xMin="(\S+)" yMin="(\S+)" xMax="(\S+)" yMax="(\S+)"', run.stdout)
    boxes = [tuple(map(float, box)) for box in found]
    least = 11.0 * 72 / 25.4
    assert boxes
    assert all(box[0] >= least and box[2] <= width - least for box in boxes)
    assert all(box[1] >= least - 4 and box[3] <= height - least + 4 for box in boxes)
    # Fonts' boxes are higher than their letters: half of each is where letters stand.
    cores = [(a, b + (d - b) * 0.25, c, d - (d - b) * 0.25) for a, b, c, d in boxes]
    for n, one in enumerate(cores):
        for other in cores[n + 1 :]:
            apart = one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1]
            assert apart or other[3] <= one[1]
