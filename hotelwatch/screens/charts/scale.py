"""Axes with even steps at numbers that are easily read."""

from __future__ import annotations

from math import log10

STEPS = (1, 2, 5)
LINES_AT_MOST = 6


def levels_to(
    highest: float, lines: int = LINES_AT_MOST, *, whole: bool = False
) -> tuple[float, ...]:
    """Even steps of 1, 2 or 5 times a power of ten, from 0 to a value or just above it.

    At most so many steps lie below the value; ``whole`` allows whole numbers only.
    """
    size = 1.0 if whole else 10.0 ** int(log10(highest) - 2)
    while True:
        for step in STEPS:
            if highest / (step * size) <= lines:
                count = int(highest / (step * size) + 1e-9) + 1
                return tuple(number * step * size for number in range(count + 1))
        size *= 10.0
