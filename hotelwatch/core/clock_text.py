"""A clock time as people type it, read in one way wherever one is typed."""

from __future__ import annotations

from datetime import time

from hotelwatch.core.problems import Refusal

HOUR_DIGITS, MINUTE_DIGITS = 2, 2


def clock_said(text: str) -> str:
    """A clock time as "HH:MM" from what was typed: 9:05, 9.05, 0905, 9; empty stays empty.

    Raises Refusal("unknown_clock_time").
    """
    typed = text.strip().replace(".", ":")
    if not typed:
        return ""
    if ":" not in typed and typed.isascii() and typed.isdigit():
        is_hour = len(typed) <= HOUR_DIGITS
        typed = f"{typed}:00" if is_hour else f"{typed[:-2]}:{typed[-2:]}"
    hours, _colon, minutes = typed.partition(":")
    if not (hours.isdigit() and minutes.isdigit() and len(minutes) == MINUTE_DIGITS):
        raise Refusal("unknown_clock_time", clock=text)
    try:
        return f"{time(int(hours), int(minutes)):%H:%M}"
    except ValueError as error:
        raise Refusal("unknown_clock_time", clock=text) from error
