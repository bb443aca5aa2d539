"""Adds up a shortfall anew from plain lists. Imports nothing of the program."""

from __future__ import annotations


def is_proven(rows, days, *, open_on, due, minutes, day_minutes, needed, had):
    """Whether these visits need more than these days have, all sums re-added.

    ``open_on``: the days on which each visit could be made; ``day_minutes``: minutes of
    the teams that can, by day. Every day on which one of the visits is open in time and
    a team has minutes must be among ``days``, or the sum proves nothing.
    """
    listed = set(days)
    for row in rows:
        could = {d for d in open_on[row] if d <= due[row] and day_minutes[d] > 0}
        if not could <= listed:
            return False
    return (
        sum(minutes[row] for row in rows) == needed
        and sum(day_minutes[d] for d in listed) == had
        and needed > had
    )
