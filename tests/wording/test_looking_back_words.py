"""What the record shows, in words: counted or assumed, how many, and never a certainty."""

from __future__ import annotations

import re

import pytest

from hotelwatch.core.cases.cost_years import YearCost
from hotelwatch.core.checks.cycle_kept import CycleKept, DayKept
from hotelwatch.core.facts import CaseNo, RoomNo
from hotelwatch.core.odds.past.back_rows import FindBack, FoundBy, LeftOver, Treatment, finds_in_all
from hotelwatch.core.odds_figures import Stance
from hotelwatch.wording.looking_back import (
    again_note,
    cost_lines,
    days_cell,
    find_heading,
    find_lines,
    finds_lines,
    groups_line,
    kept_lines,
    kept_note,
    treatment_text,
    what_if_text,
    window_cell,
)
from tests.build import day, rules

# Words that nobody may be able to quote as a certainty; the wording rules of the odds name them.
CERTAIN = re.compile(
    r"\b(clear|certified|guarantee\w*|bug-free|safe|proven|certain\w*|free of)\b|(?<!\d)0 %|100 %",
    re.I,
)


def by_stance(cautious, central, optimistic):
    return {Stance.CAUTIOUS: cautious, Stance.CENTRAL: central, Stance.OPTIMISTIC: optimistic}


def find(way=FoundBy.DEEP, outlived=None, noticed=100):
    return FindBack(
        case=CaseNo("2026-001"),
        room=RoomNo("103"),
        found_on=day(100),
        noticed_on=day(noticed),
        found_by=way,
        window=by_stance((day(10), day(90)), (day(30), day(95)), (day(50), day(98))),
        middle_on=by_stance(day(40), day(60), day(80)),
        insects=by_stance(20.2, 11.4, 4.8),
        treatment=None if outlived is None else Treatment(day(20), by_stance(*outlived)),
        record_from=day(25),
    )


def kept(**more):
    values = {
        "today": DayKept(day(100), 98, 98, 96),
        "usual_days": 91,
        "never": (),
        "overdue": 2,
        "latest": 10,
        "latest_days": -14,
        "worst_days": 3,
        "months": (),
    }
    return "\n".join(kept_lines(CycleKept(**{**values, **more})))


def finds(*rows):
    return "\n".join(finds_lines(finds_in_all(rows, first_on=day(0), gone=())))


def test_a_kept_cycle_in_counts_with_their_whole():
    said = kept()
    assert "within the last 91 days: 98 of 98 undersides" in said
    assert "Within its own cycle: 96 of 98 undersides (98 %)" in said
    assert "2 are late, the latest by 3 days: fewer than one in ten" in said


def test_the_late_tail_and_what_is_not_late():
    said = kept(overdue=30, latest_days=12, worst_days=40)
    assert "Each of the latest tenth (10) is at least 12 days late, the latest 40 days." in said
    assert "None is late today." in kept(overdue=0, worst_days=0)
    assert kept(today=DayKept(day(1), 0, 0, 0)) == "No bed is on record yet."


def test_few_finds_come_with_their_number_and_prove_nothing():
    said = finds(find(FoundBy.GUEST), find(), find())
    assert "3 confirmed finds are on record" in said
    assert "deep check 2, guest 1 (counted)" in said
    assert "By guests first: 1 of 3" in said
    assert "in the middle: about 40 (20 to 60); of 3 finds, assumed" in said
    assert "Few finds prove nothing, and what nobody found is in none of these numbers." in said


def test_no_find_is_said_with_its_day_and_what_it_does_not_say():
    said = finds()
    assert "No confirmed find since Mon 5 Jan 2026 is on record." in said
    assert "what nobody found" in said


def test_one_find_by_every_setting_with_what_is_assumed():
    said = "\n".join((find_heading(find(noticed=97)), *find_lines(find())))
    assert "Room 103, found on Wed 15 Apr 2026; noticed first on Sun 12 Apr 2026" in said
    assert "central: 4 Feb 2026 to 10 Apr 2026; cautious: 15 Jan 2026" in said
    assert "about 40 (20 to 60) (assumed)" in said
    assert "about 11 (5 to 20) (assumed)" in said
    assert "on record from Fri 30 Jan 2026 on only" in said


@pytest.mark.parametrize(
    ("outlived", "left_over", "said"),
    [
        (
            (0.9, 0.7, 0.6),
            LeftOver.OUTLIVED,
            "More likely left over from the treatment of Sun 25 Jan 2026 (about 7 in 10",
        ),
        ((0.3, 0.2, 0.1), LeftOver.ANEW, "More likely come in anew (about 8 in 10"),
        ((0.7, 0.45, 0.2), LeftOver.CANNOT_TELL, "the settings disagree. Left over: about 4 in 10"),
    ],
)
def test_left_over_or_anew_in_words_of_likelihood(outlived, left_over, said):
    row = find(outlived=outlived)
    assert row.treatment.left_over is left_over
    assert said in treatment_text(row.treatment)
    assert "assumed" in treatment_text(row.treatment)
    assert (days_cell(row) == "–") is (left_over is not LeftOver.ANEW)


def test_no_window_of_coming_in_is_told_for_what_was_left_over():
    row = find(outlived=(0.9, 0.8, 0.7))
    assert window_cell(row) == "before 25 Jan 2026"
    assert "Came in most likely" not in "\n".join(find_lines(row))


def test_costs_name_their_prices_and_what_is_left_out():
    money = dict.fromkeys(Stance, 4525.0)
    none = dict.fromkeys(Stance, 0.0)
    row = YearCost(2026, 1, 0, 31, 2, 1, 1, money, none, none)
    said = "\n".join(cost_lines((row,), rules().odds))
    assert "31 room nights closed for finds, 2 for signs that were not confirmed" in said
    assert "1 room treated: 4,525 of money" in said
    assert "a night 100 (assumed), a room's treatment 1,225 (published)" in said
    assert "Not in it: the work of looking" in said


def test_nothing_can_be_quoted_as_a_certainty():
    row = YearCost(0, *[0] * 6, *[dict.fromkeys(Stance, 0.0)] * 3)
    texts = [
        kept(),
        kept(overdue=0, worst_days=0),
        kept_note(),
        finds(),
        finds(find(FoundBy.GUEST)),
        finds(*[find()] * 40),
        groups_line((), 0),
        again_note(),
        what_if_text(),
        *cost_lines((), rules().odds),
        *cost_lines((row,), rules().odds),
    ]
    for outlived in ((0.999999,) * 3, (0.0,) * 3, (0.9, 0.5, 0.1)):
        texts += find_lines(find(outlived=outlived))
    for text in texts:
        assert not CERTAIN.search(text), text
