"""Plans of 28 days made once, ours and others', on the same invented hotels.

Run: python -m tests.bench.bench_plan [rooms ...]

Two ways to count walking. "in the day": a way to a corridor comes out of the team's minutes,
as in the program; hotels are staffed at 85 % with 2.5 rooms a way. "as a cost": ways only
cost, as in trials before it; minutes of visits alone are 85 %. Bounds: of minutes (no plan
has fewer overdue, corridors next door), of narrow days with whole visits, and of walking (a
linear programme; ways and visits may be split). The second tier's gap is to that
programme's bound for plans with no more overdue bed-days than the plan has; with "whole" to
the bound that HiGHS finds in a minute for whole visits, where ways only cost. Seconds are
of the processor, since machines are busy with other things too; bounds are not among them.
"""

from __future__ import annotations

import sys
from statistics import median
from time import process_time

import numpy as np

from hotelwatch.core.planning.bounds import fewest_overdue, fewest_with_walking, with_walking
from hotelwatch.core.planning.narrow import narrow_days
from hotelwatch.core.planning.problem import NEVER, Choice
from hotelwatch.core.planning.rolling import roll
from hotelwatch.core.planning.strict import Effort, strict_plan
from hotelwatch.core.planning.strict_costs import Aims, second_costs, second_tier, ways
from tests.bench.general_solvers import by_cp_sat, by_highs, second_tier_bound
from tests.bench.instances import one_shot
from tests.bench.rounds_by_plan import PRICES

SEEDS = (21, 22, 23)
"""Nobody tuned on them."""
SECONDS = 10.0
"""What a general solver gets."""
STRICT = ("strict plan, first answer", "strict plan")
MINUTE = 60.0
WHOLE_ROOMS = 2000
"""HiGHS says nothing of use on larger hotels in a minute."""
WALK_IN_DAY = ("planner, for the long run", "earliest due first", "round robin by number")
QUICK = Effort(tries=40, is_first=True)
QUICK_LARGE = Effort(tries=40, is_first=True, mixing_rounds=10)
"""For large hotels: prices need not be exact for the fewest overdue."""
LARGE = 5000
TRIES = {400: 400, 2000: 200, 7000: 150}
MINUTES_ONLY = 0.975
"""Load by which visits alone need 85 % of the minutes of these hotels."""


def by_rule(made, order):
    """Every day open visits in an order, each where its corridor's team is, else where it fits."""
    on, team = np.full(made.visits, NEVER), np.full(made.visits, NEVER)
    least = int(made.minutes.min())
    for day in range(made.horizon):
        left = {k: int(m) for k, m in enumerate(made.team_minutes[day]) if m}
        gone = {k: set() for k in left}
        for row in order(day, on):
            if max(left.values(), default=0) < least:
                break
            area = int(made.area[row])
            for k in sorted(left, key=lambda k: (area not in gone[k], k)):
                cost = int(made.minutes[row]) + (0 if area in gone[k] else made.area_minutes)
                if cost <= left[k]:
                    left[k] -= cost
                    gone[k].add(area)
                    on[row], team[row] = day, k
                    break
    return Choice(on, team)


def earliest_due_first(made):
    def order(day, on):
        rows = np.flatnonzero((on == NEVER) & made.open[:, day])
        return sorted(rows, key=lambda row: (made.due[row], row))

    return by_rule(made, order)


def round_robin(made):
    """By number, from the room after the last one looked at; closed rooms are skipped."""
    state = {"next": 0}

    def order(day, on):
        turn = (np.arange(made.visits) + state["next"]) % made.visits
        for row in turn:
            if on[row] == NEVER and made.open[row, day]:
                yield row
                if on[row] != NEVER:
                    state["next"] = int(row) + 1

    return by_rule(made, order)


def policies(aims, tries):
    return {
        "planner, for the long run": lambda made: roll(made, PRICES).choice,
        "strict plan, first answer": lambda made: first_answer(made, aims),
        "strict plan": lambda made: strict_plan(made, aims=aims, effort=Effort(tries=tries)),
        "earliest due first": earliest_due_first,
        "round robin by number": round_robin,
        "plain model, HiGHS 10 s": lambda made: by_highs(made, aims, SECONDS),
        "plain model, CP-SAT 10 s": lambda made: by_cp_sat(made, aims, SECONDS),
    }


def first_answer(made, aims):
    effort = QUICK_LARGE if made.visits > LARGE else QUICK
    return strict_plan(made, aims=aims, effort=effort)


def measure(rooms, *, backlog, in_day):
    aims = Aims(moved_minutes=12, walks_in_day=in_day)
    load = 0.85 if in_day else MINUTES_ONLY
    made = [one_shot(rooms, seed=seed, backlog=backlog, load=load) for seed in SEEDS]
    minutes, seconds = timed(lambda one: fewest_overdue(one), made)
    narrow, more = timed(lambda one: narrow_days(one).fewest, made)
    walking, later = [None] * len(made), [0.0]
    if in_day:
        walking, later = timed(lambda one: fewest_with_walking(one, aims), made)
    title = "a tenth late" if backlog else "85 % load"
    print(f"\n{rooms} rooms, {title}, walking {'in the day' if in_day else 'as a cost'}, {SEEDS}")
    print(f"  no plan below {minutes} by minutes ({said(seconds, '.2f')} s)")
    print(f"  no plan below {narrow} by narrow days ({said(more, '.2f')} s)")
    if in_day:
        print(f"  no plan below {walking} by walking ({said(later, '.1f')} s)")
    print(
        f"  {'':27}{'overdue bed-days':24}{'processor s':20}{'second tier':24}"
        f"{'above its bound':22}{'walked':>7}{'latest':>7}"
    )
    for name, policy in policies(aims, TRIES.get(rooms, 200)).items():
        # These keep ways within the day and know no other count.
        if not in_day and name in WALK_IN_DAY:
            continue
        row(name, made, policy, aims)


def timed(asked, made):
    """Answers, and processor seconds for each."""
    answers, seconds = [], []
    for one in made:
        began = process_time()
        answers.append(asked(one))
        seconds.append(process_time() - began)
    return answers, seconds


def said(values, form):
    return " / ".join(format(value, form) for value in values)


def row(name, made, policy, aims):
    choices, seconds = timed(policy, made)
    pairs = list(zip(made, choices, strict=True))
    overdue = [one.overdue_bed_days(choice) for one, choice in pairs]
    second = [second_tier(one, choice, aims) for one, choice in pairs]
    walked = [one.area_minutes * ways(one, choice) for one, choice in pairs]
    gaps = ""
    if name in STRICT:
        least = [
            with_walking(one, second_costs(one, aims), aims, within=most)
            for one, most in zip(made, overdue, strict=True)
        ]
        gaps = said([s / bound - 1.0 for s, bound in zip(second, least, strict=True)], ".1%")
    print(
        f"  {name:27}{said(overdue, 'd'):24}{said(seconds, '.2f'):20}{said(second, '.0f'):24}"
        f"{gaps:22}{median(walked):7.0f}{median(latest(*pair) for pair in pairs):7.0f}",
        flush=True,
    )
    if name == STRICT[-1] and not aims.walks_in_day and made[0].visits <= WHOLE_ROOMS:
        whole = [
            second_tier_bound(one, most, MINUTE) for one, most in zip(made, overdue, strict=True)
        ]
        gaps = said([s / bound - 1.0 for s, bound in zip(second, whole, strict=True)], ".1%")
        print(f"  {'  whole':27}{'':44}{said(whole, '.0f'):24}{gaps}", flush=True)


def latest(made, choice):
    """Days by which the bed that comes last is late, within the horizon."""
    column = np.where(choice.on == NEVER, made.horizon, choice.on)
    late = made.late_days[np.arange(made.visits), column]
    return int((late + np.maximum(0, -made.due - 1) * (late > 0)).max(initial=0))


def main(sizes):
    for rooms in sizes:
        for backlog in (False, True) if rooms < 7000 else (False,):
            for in_day in (True, False):
                measure(rooms, backlog=backlog, in_day=in_day)


if __name__ == "__main__":
    main([int(size) for size in sys.argv[1:]] or [400, 2000, 7000])
