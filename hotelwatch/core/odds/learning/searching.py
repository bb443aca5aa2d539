"""Where a function crosses zero, and where it is highest; plain and sure rather than fast."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

HALVINGS = 100
COARSE = 40
"""Points tried before the best one is closed in on."""
GOLDEN = (sqrt(5.0) - 1.0) / 2.0
CLOSE = 1e-10


def root(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a function that is positive at ``low`` and not at ``high`` turns, by halving."""
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        if middle in (low, high):
            break
        if function(middle) > 0.0:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0


def highest(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a function is highest between two points: the best of a coarse grid, closed in on."""
    width = (high - low) / COARSE
    tried = [low + number * width for number in range(COARSE + 1)]
    best = max(tried, key=function)
    left, right = max(low, best - width), min(high, best + width)
    first, second = right - GOLDEN * (right - left), left + GOLDEN * (right - left)
    at_first, at_second = function(first), function(second)
    while right - left > CLOSE:
        if at_first >= at_second:
            right, second, at_second = second, first, at_first
            first = right - GOLDEN * (right - left)
            at_first = function(first)
        else:
            left, first, at_first = first, second, at_second
            second = left + GOLDEN * (right - left)
            at_second = function(second)
    return (left + right) / 2.0
