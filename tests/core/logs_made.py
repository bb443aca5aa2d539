"""Invented logs of probes as csv, made by code: a room warmed slowly, with what one asks for."""

from __future__ import annotations

from datetime import datetime, timedelta


def heat_log(
    *,
    begins: datetime,
    hours: float = 6.0,
    every_minutes: int = 2,
    air_celsius: float = 56.0,
    core_celsius: float = 50.0,
    fahrenheit: bool = False,
) -> str:
    """A csv of five probes: air first, the mattress's core last and least.

    Each probe nears its own end temperature by halves, slower the deeper it lies; the last
    half hour cools. Invented: shapes only, no measurement.
    """
    probes = (
        ("Air", air_celsius, 25.0),
        ("Headboard", air_celsius - 2, 45.0),
        ("Base inside", core_celsius + 1.5, 70.0),
        ("Mattress core", core_celsius, 85.0),
        ("Wall void", core_celsius + 0.5, 80.0),
    )
    sign = "°F" if fahrenheit else "°C"
    lines = ["Time," + ",".join(f"{name} {sign}" for name, _end, _half in probes)]
    for minute in range(0, int(hours * 60) + 1, every_minutes):
        cooled = max(0.0, minute - (hours * 60 - 30)) * 0.4
        cells = []
        for _name, end, half in probes:
            celsius = end - (end - 21.0) * 0.5 ** (minute / half * 2) - cooled * 25.0 / half
            cells.append(f"{celsius * 9 / 5 + 32 if fahrenheit else celsius:.1f}")
        at = begins + timedelta(minutes=minute)
        lines.append(f"{at:%Y-%m-%d %H:%M}," + ",".join(cells))
    return "\n".join(lines) + "\n"
