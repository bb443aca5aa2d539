"""On how many days a bed was overdue: the measure by which tests compare rounds."""

from __future__ import annotations

from datetime import timedelta


def overdue_days(looked_on, cycle_days, *, from_on, until_on):
    """On how many days from..until a bed was overdue, given when it was looked at.

    A day counts if, as it begins, the last look is more than the cycle old. A look
    before ``from_on`` must be among those given; days before the first look don't count.
    """
    days = sorted(set(looked_on))
    total = 0
    for number, day in enumerate(days):
        late_from = max(day + timedelta(days=cycle_days + 1), from_on)
        # A day's own look comes after it has begun: that day still counts.
        late_until = min(days[number + 1] if number + 1 < len(days) else until_on, until_on)
        total += max(0, (late_until - late_from).days + 1)
    return total
