from __future__ import annotations

import re
from dataclasses import replace

import pytest

from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.odds.cycles.cycle_rows import Circumstances, Finder, KeptWay, LetNights, Now
from hotelwatch.core.odds.cycles.cycle_table import cycle_table
from hotelwatch.core.odds.cycles.cycle_ways import CheckWay, Step, room_of
from hotelwatch.core.odds.cycles.next_hour import next_hour
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.standing import Standing
from hotelwatch.wording import language
from hotelwatch.wording.cycle import (
    best_hour_sentence,
    best_money_sentence,
    caution_lines,
    change_text,
    detection_lines,
    first_cell,
    insects_text,
    kept_sentence,
    let_sentence,
    next_hour_lines,
    rests_lines,
    step_cells,
    step_text,
    way_text,
    year_lines,
)
from tests.build import rules

ODDS = rules().odds
ROOM = room_of(rules(), [("box_spring", False)])
AROUND = Circumstances(0.64, neighbours={(Kind.SHARES_WALL,): 2.0})
CERTAIN = re.compile(
    r"\b(clear|certified|guarantee\w*|bug-free|safe|never|always|proven)\b|\b0 %|\b100 %", re.I
)


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def answer_of(way, cycle_days=91, around=AROUND):
    return next_hour(ODDS, Now(way, cycle_days), room=ROOM, around=around)


def by_stance(cautious, central, optimistic):
    return dict(zip(Stance, (cautious, central, optimistic), strict=True))


def test_a_cycle_is_told_about_and_with_its_range():
    (row,) = cycle_table(ODDS, [CheckWay()], [90], room=ROOM, around=AROUND)
    first, sizes, finders = detection_lines(row, ODDS)
    assert first == (
        "With a look every 90 days (dust cover closed, headboard on the wall, no traps) an"
        " infestation goes unseen for about 65 (45 to 97) days on average."
    )
    assert sizes.startswith("Half are found with up to about 24 (18 to 34) insects")
    assert "a guest: about 4 in 10" in finders
    assert "traps" not in finders
    years = list(year_lines(row, 200))
    assert years[0].startswith("In a year of 200 rooms: hidden days about ")
    assert "hours of one person" in years[1]


def test_whatever_is_far_from_found_is_not_told_as_a_number():
    (row,) = cycle_table(
        ODDS, [CheckWay()], [3000], room=ROOM, around=Circumstances(0.0, glances=False)
    )
    lines = list(detection_lines(row, ODDS))
    assert insects_text(by_stance(None, 12.3, 4.0), ODDS) == (
        "about 12 (4 to more than are ever found)"
    )
    assert insects_text(by_stance(5000.0, 339.0, 100.0), ODDS) == "about 340 (100 to 5,000 or more)"
    assert any("Found by nobody within 10 years" in line for line in lines)


def test_shares_stop_short_of_none_and_all():
    (row,) = cycle_table(ODDS, [CheckWay()], [14], room=ROOM, around=Circumstances(0.0))
    assert first_cell(row, Finder.GUEST) == "less than 1 %"
    assert first_cell(row, Finder.CHECK).endswith(" to more than 99 %)")


@pytest.mark.parametrize(
    ("way", "said"),
    [
        (CheckWay(True, True), "dust cover opened, headboard off, no traps"),
        (CheckWay(encased=True, traps=True), "all beds encased, headboard on the wall, traps"),
        (CheckWay(longer=1.5), "looking 1.5 times as long"),
    ],
)
def test_a_way_in_words(way, said):
    assert said in way_text(way)


def test_every_step_has_words():
    answer = answer_of(CheckWay())
    assert {worth.step for worth in answer.steps} == set(Step)
    said = [step_text(worth) for worth in answer.steps]
    assert len(set(said)) == len(Step)
    assert "a look every 60 days" in said


def test_the_next_hour_where_the_settings_agree():
    said = best_hour_sentence(answer_of(CheckWay()))
    assert re.fullmatch(
        r"The next hour of work is best spent on traps under the beds: about [\d.]+ \([\d.]+ to"
        r" [\d.]+\) hidden days less for each 100 hours more, by every one of the"
        r" settings\.",
        said,
    )
    assert "for each 1,000 of money" in best_money_sentence(answer_of(CheckWay()))


def test_the_next_hour_where_they_disagree():
    answer = answer_of(CheckWay(True, True, traps=True), 90)
    assert best_hour_sentence(answer) == (
        "On what the next hour of work is best spent the settings disagree: looking half as long"
        " again at the same places (cautious ones), looking half as long again at the same places"
        " (central ones) and a look every 60 days (optimistic ones)."
    )
    assert "the settings disagree" in best_money_sentence(answer)


def test_the_next_hour_where_nothing_helps():
    answer = answer_of(CheckWay(True, True, True, True), around=Circumstances(0.0))
    assert "No step" in best_hour_sentence(answer)
    assert "No step" in best_money_sentence(answer)
    nothing_for_one = replace(answer, best={**answer.best, Stance.CENTRAL: Step.LONGER})
    assert "nothing (cautious ones), looking half" in best_hour_sentence(nothing_for_one)


def test_what_saves_money_and_days_is_told_first():
    answer = answer_of(CheckWay(True, True, traps=False), 30)
    free = replace(answer_of(CheckWay(traps=True), 14))
    assert set(free.best_for_money.values()) == {Step.ENCASING}
    assert "costs less than looking does today" in best_money_sentence(free)
    assert "costs less" not in best_money_sentence(answer)


def test_lifting_and_covers_come_with_their_caution():
    lines = list(caution_lines({Step.COVER, Step.HEADBOARD, Step.TRAPS}))
    assert "may not go back" in lines[0]
    assert "two people" in lines[1].lower()
    assert "local rules" in lines[2]
    assert "no proof" in lines[3]
    assert list(caution_lines(set())) == []


def test_a_change_has_a_sign_only_where_it_is_less():
    assert change_text(by_stance(3.0, 2.0, 1.0)) == "about 2 (1 to 3)"
    assert change_text(by_stance(-3.0, -2.0, 1.0)) == "about −2 (−3 to 1)"
    assert change_text(by_stance(-188.0, -188.0, -188.0)) == "−190"
    cells = step_cells(answer_of(CheckWay()).worth(Step.ENCASING), 100)
    assert cells[2].startswith("−")


def test_every_input_says_how_well_it_is_known():
    lines = list(rests_lines(ODDS, LetNights(0.64, 0)))
    assert all("assumed" in line for line in lines[:-1])
    measured = ODDS.with_figures(
        {"notice_deep": replace(ODDS.figures.notice_deep, standing=Standing.MEASURED)}
    )
    assert any("(measured here)" in line for line in rests_lines(measured, None))
    assert "last 300 nights" in let_sentence(LetNights(0.7, 300))
    assert "as told here" in "".join(rests_lines(ODDS, None))


def test_the_record_behind_todays_way_is_counted():
    assert "not on record" in kept_sentence(KeptWay(0, 0, 0, 0))
    said = kept_sentence(KeptWay(40, 3, 30, 1))
    assert "beds with a dust cover 40, cover opened in 3;" in said
    assert "deep checks of rooms 30, headboard taken off in 1." in said


@pytest.mark.parametrize("let_share", [0.0, 0.64, 1.0])
@pytest.mark.parametrize("cycle_days", [1, 14, 90, 1825])
def test_nobody_can_quote_a_certainty(let_share, cycle_days):
    around = replace(AROUND, let_share=let_share)
    for way in (CheckWay(), CheckWay(True, True, traps=True, longer=3.0), CheckWay(encased=True)):
        answer = answer_of(way, cycle_days, around)
        row = answer.today
        lines = [
            *detection_lines(row, ODDS),
            *year_lines(row, 250),
            *next_hour_lines(answer, 250),
            *rests_lines(ODDS, LetNights(let_share, 0)),
            *(first_cell(row, finder) for finder in Finder),
            *(cell for worth in answer.steps for cell in step_cells(worth, 250)),
        ]
        assert not [line for line in lines if CERTAIN.search(line)]
