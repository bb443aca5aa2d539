"""Checks a reason from plain lists, adding all up anew. Imports nothing of the program.

A case is plain: ``open_on`` days of each visit, its ``minutes``, ``beds``, ``needs`` of
people, ``due`` day, ``pinned_on`` and ``pinned_team`` (-1 for none), ``area``; teams'
``team_minutes`` by day, ``team_people``; ``shut``, a set of (visit, day, team); ``way``
minutes; ``been``, a set of (day, team, area).
"""

from __future__ import annotations


def way_of(case, row, day, team, gone):
    return 0 if (day, team, case["area"][row]) in gone else case["way"]


def could(case, row, day, team):
    """Whether a team could make the visit on a day, whole, with its way, pins kept."""
    # A team that has been anywhere today may need no way: a sum must allow for it.
    walked = day == 0 and any((on, one) == (0, team) for on, one, _ in case["been"])
    way = 0 if walked else case["way"]
    return (
        works(case, row, day, team)
        and case["team_people"][team] >= case["needs"][row]
        and (row, day, team) not in case["shut"]
        and case["minutes"][row] + way <= case["team_minutes"][day][team]
        and case["pinned_on"][row] in (-1, day)
        and case["pinned_team"][row] in (-1, team)
    )


def works(case, row, day, team):
    return day in case["open_on"][row] and case["team_minutes"][day][team] > 0


def cells(case):
    return [(d, t) for d, row in enumerate(case["team_minutes"]) for t in range(len(row))]


def in_time(case, row):
    return {(d, t) for d, t in cells(case) if d <= case["due"][row] and could(case, row, d, t)}


def sum_faults(case, rows, counted, needed, had):
    """What is wrong with: these visits need more than these teams have on these days."""
    faults = []
    horizon = len(case["team_minutes"])
    if len(set(rows)) != len(rows) or not all(0 <= case["due"][r] < horizon for r in rows):
        faults.append("visits twice, or not due in these days")
    listed = {(d, t) for d, t, _ in counted}
    if len(listed) != len(counted):
        faults.append("a team's day twice")
    faults += [f"visit {r} could go elsewhere" for r in rows if not in_time(case, r) <= listed]
    if any(case["team_minutes"][d][t] != minutes for d, t, minutes in counted):
        faults.append("minutes of a team's day")
    if sum(case["minutes"][r] for r in rows) != needed:
        faults.append("minutes needed")
    if sum(minutes for _, _, minutes in counted) != had:
        faults.append("minutes there")
    if needed <= had:
        faults.append("nothing short")
    return faults


def alone_faults(case, row, binds, opens_on, bed_days):
    """What is wrong with: this visit has no place in time, for this reason."""
    faults = []
    due, horizon = case["due"][row], len(case["team_minutes"])
    if not 0 <= due < horizon or in_time(case, row):
        faults.append("it could be in time")
    later = [d for d, t in cells(case) if d > due and could(case, row, d, t)]
    if opens_on != min(later, default=None):
        faults.append("first day after")
    if bed_days != case["beds"][row] * (min(later, default=horizon - 1) - due):
        faults.append("overdue bed-days")
    there = [(d, t) for d, t in cells(case) if d <= due and works(case, row, d, t)]
    able = [(d, t) for d, t in there if case["team_people"][t] >= case["needs"][row]]
    met = [(d, t) for d, t in able if (row, d, t) not in case["shut"]]
    needed = case["minutes"][row] + case["way"]
    long_enough = [(d, t) for d, t in met if case["team_minutes"][d][t] >= needed]
    first_empty = next(
        (
            name
            for name, found in (
                ("no_opening", there),
                ("no_team", able),
                ("outside_shifts", met),
                ("too_long", long_enough),
            )
            if not found
        ),
        "pinned",
    )
    if binds != first_empty:
        faults.append(f"told {binds}, is {first_empty}")
    return faults


def late_days(case, rows, plan):
    """Overdue bed-days of visits in a plan: days that begin with one due before them."""
    horizon = len(case["team_minutes"])
    total = 0
    for row in rows:
        until = plan[row][0] if plan[row] is not None else horizon - 1
        total += case["beds"][row] * sum(day > case["due"][row] for day in range(until + 1))
    return total


def late_faults(case, rows, told, plan):
    """What is wrong with: late in the plan, with so many minutes left, at most, in time.

    ``told`` = (binds, shortest, most left for one so short); ``plan`` = the (day, team) of
    each visit, or None.
    """
    faults = []
    left = [list(row) for row in case["team_minutes"]]
    gone = set(case["been"])
    for row, place in enumerate(plan):
        if place is not None:
            day, team = place
            left[day][team] -= case["minutes"][row] + way_of(case, row, day, team, gone)
            gone.add((day, team, case["area"][row]))
    binds, shortest, most = told
    most_of = []
    for row in rows:
        if plan[row] is not None and plan[row][0] <= case["due"][row]:
            faults.append(f"visit {row} is in time")
        most_of.append(
            max(left[d][t] - way_of(case, row, d, t, gone) for d, t in in_time(case, row))
        )
        fits = most_of[-1] >= case["minutes"][row]
        if fits != (binds == "put_off"):
            faults.append(f"visit {row} {'fits' if fits else 'does not fit'}")
    if shortest != min(case["minutes"][row] for row in rows):
        faults.append("shortest")
    shortest_of = [case["minutes"][row] == shortest for row in rows]
    if most != max(some for some, is_short in zip(most_of, shortest_of, strict=True) if is_short):
        faults.append("most left")
    return faults
