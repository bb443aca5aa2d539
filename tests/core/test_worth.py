"""What a look costs and saves on each day: each term by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hotelwatch.core.planning.prices import BUSY, MOST_TIMES, Prices, prices_of
from hotelwatch.core.planning.worth import CLOSED, worth
from tests.build import rules
from tests.core.problems import problem

FREE = Prices(minute=0.0, alone=0.0, ageing_cycles=1 / 6, moved=3, firm=2, firm_days=7)
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


def test_a_look_saves_the_minutes_of_a_later_one_and_loses_what_waiting_would_save():
    # Half a bed-day a minute: 20 minutes and half a way of 8 are worth 12, after the last day.
    # A day of waiting is worth a sixtieth of that; open on day 1 alone, it gives up five days.
    of = worth(one(30, open_on=[1], cycle=[60], area_minutes=8), PRICED)
    assert of.saved[0] == pytest.approx([0, 12 - 5 * 12 / 60, 0, 0, 0, 0])


def test_a_day_late_never_saves_more_than_half_a_bed_day():
    # Of 12 in four days 3 a day until it is due on day 1, then half a bed-day. Ten days late
    # a day counts double, as elsewhere here.
    slow = replace(PRICED, ageing_cycles=10 / 4)
    on = {day: one(1, open_on=[day], cycle=[4], area_minutes=8) for day in (1, 2)}
    saved = [worth(made, slow).saved[0, day] for day, made in on.items()]
    late = 5 + 25 / 20
    assert saved == pytest.approx([12 - 5 * 0.5 + late, 12 - 4 * 0.5 + late - 1.05])


def test_after_the_last_day_it_costs_what_its_best_later_day_does():
    near, far = (
        worth(one(1, open_on=[1], later_on=[d]), FREE).saved[0, 1] for d in (DAYS, DAYS + 2)
    )
    assert (near, far) == pytest.approx((5 + 25 / 20, 7 + 49 / 20))


def known_on(days, length=12):
    known = np.zeros((1, length), bool)
    known[0, list(days)] = True
    return known


@pytest.mark.parametrize(
    ("prices", "known", "costs"),
    [
        # Due again on day 4, the room opens on day 8; after a second look on day 2, by day 6.
        (FREE, [0, 8], 4),
        (FREE, [0, 2, 8], 2),
        # A look more wastes half of its minutes: 6 bed-days, more than four days late.
        (PRICED, [0, 2, 8], 4),
        # Days not known, and a due day on which it opens, bring nothing.
        (FREE, [0], 8),
        (FREE, [0, 4], 0),
    ],
)
def test_a_look_before_a_known_stay_bears_what_that_will_make_late(prices, known, costs):
    made = one(9, open_on=[0], cycle=[4], area_minutes=8)
    with_stay = worth(replace(made, known=known_on(known)), prices).saved[0, 0]
    without = worth(replace(made, known=known_on(range(12))), prices).saved[0, 0]
    assert without - with_stay == pytest.approx(costs)


def test_a_due_day_beyond_what_is_known_bears_nothing():
    made = one(9, open_on=[0], cycle=[12])
    saved = [worth(replace(made, known=known_on(on)), FREE).saved[0, 0] for on in ([0], range(12))]
    assert saved[0] == saved[1]


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
