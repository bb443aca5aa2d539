"""What a look costs on each day: each term by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hotelwatch.core.planning.worth import BUSY, CLOSED, MOST_TIMES, Prices, prices_of, worth
from tests.build import rules
from tests.core.problems import problem

FREE = Prices(minute=0.0, alone=0.0, ageing_days=10, moved=3, firm=2, firm_days=7)
"""Minutes cost nothing, so that lateness and risk stand alone."""
PRICED = replace(FREE, minute=0.5, alone=0.5)
DAYS = 6


def one(due, *, open_on=range(DAYS), minutes=20, **more):
    given = {"later_on": [DAYS], **more}
    return problem([minutes], [due], [open_on], [60] * DAYS, **given)


def test_a_day_late_costs_a_bed_day_and_more_the_later_it_is():
    of_day = worth(one(1, beds=[2]), FREE).of_day[0]
    # 2 beds, late from day 2 on: n days late cost n + n² / 20 for each.
    assert of_day == pytest.approx([0, 0, 2 * 1.05, 2 * 2.2, 2 * 3.45, 2 * 4.8])


def test_what_is_late_already_ages_and_counts_from_today():
    of_day = worth(one(-5, waits_since=[-5]), FREE).of_day[0]
    # Four days late before today's: a further day counts 1 + 4 / 10.
    assert of_day[:4] == pytest.approx([0, 1.4 + 0.05, 2.8 + 0.2, 4.2 + 0.45])
    # Tried for in vain yesterday it is as young as what falls due today.
    assert worth(one(-5, waits_since=[-1]), FREE).of_day[0, 3] == pytest.approx(3 + 0.45)


def test_a_riskier_room_weighs_as_much_more():
    usual, riskier = (worth(one(0, weight=[w]), FREE).of_day[0] for w in (1.0, 1.5))
    assert riskier == pytest.approx(1.5 * usual)


def test_each_night_of_waiting_bears_its_risk():
    of_day = worth(one(9, beds=[2], surprise=[[0.1, 0.2, 0.3, 0, 0, 0.4]]), FREE).of_day[0]
    assert of_day == pytest.approx([0, 0.2, 0.6, 1.2, 1.2, 1.2])


def test_a_closed_day_costs_more_than_anything():
    of_day = worth(one(0, open_on=[1, 4]), FREE).of_day[0]
    assert [cost == CLOSED for cost in of_day] == [True, False, True, True, False, True]


def test_waiting_saves_its_share_of_the_minutes():
    of = worth(one(30, cycle=[60], area_minutes=8), PRICED)
    # Half a bed-day a minute: 20 minutes and half a way of 8 are worth 12; a day is 1/60.
    assert of.of_minutes[0] == pytest.approx([12] * DAYS)
    assert of.waited[0] == pytest.approx([12 / 60 * day for day in range(DAYS)])


def test_minutes_are_worth_more_on_days_from_which_on_the_house_is_behind_for_long():
    of = worth(one(30, cycle=[60], area_minutes=8, behind=[2, 2, 1, 0]), PRICED)
    # 24 minutes, each worth 0.02 more for each day behind; days not reckoned have none.
    assert of.of_minutes[0] == pytest.approx([12.96, 12.96, 12.48, 12, 12, 12])
    # What waiting saves, it saves in the long run.
    assert of.waited[0] == pytest.approx([12 / 60 * day for day in range(DAYS)])


def test_a_day_late_never_saves_more_than_half_a_bed_day():
    waited = worth(one(1, cycle=[4], area_minutes=8), PRICED).waited[0]
    assert waited[:4] == pytest.approx([0, 3, 3.5, 4])


def test_after_the_last_day_it_costs_what_its_best_later_day_does():
    of = worth(one(1, cycle=[60], later_on=[8]), PRICED)
    assert of.later == pytest.approx([7 + 49 / 20 + 10 - 10 / 60 * 8])
    assert of.total[0, :-1] == pytest.approx(of.of_day[0] + of.of_minutes[0] - of.waited[0])
    assert of.total[0, -1] == of.later[0]


def test_of_what_cases_ask_for_the_nearer_deadline_counts_more():
    asked = {"is_asked": [True], "waits_since": [-99]}
    near, far = (worth(one(due, **asked), FREE).of_day[0] for due in (1, 3))
    # 36 a minute and day, once more for a deadline today, half of that for one tomorrow.
    assert near[1] == pytest.approx(20 * 36 * 1.5)
    assert far[1] == pytest.approx(20 * 36 * 1.25)
    assert near[2] == pytest.approx(20 * (2 * 36 * 1.5 + 7500) + worth(one(1), FREE).of_day[0, 2]
                                    + (98 / 10))  # fmt: skip


def test_what_was_tried_for_in_vain_yesterday_lets_other_cases_go_first():
    asked = {"is_asked": [True]}
    fresh, tried = (worth(one(5, waits_since=[s], **asked), FREE).of_day[0] for s in (-6, -1))
    assert fresh[1] == pytest.approx(36 * tried[1])


def test_minutes_are_worth_their_figure_where_teams_are_busy_and_little_where_they_are_not():
    figures = rules().figures
    worths = [prices_of(figures, busy=busy).minute for busy in (0.0, BUSY / 2, BUSY, 9.0)]
    figure = figures.minute_worth.value
    assert worths == pytest.approx([0.0, figure / 2**6, figure, MOST_TIMES * figure])
