"""What the headings of a probe log mean: time, elapsed minutes, unit, and where a probe lies."""

from __future__ import annotations

import re

from hotelwatch.intake.cells import fold

TIME = frozenset(
    {
        "time", "timestamp", "date time", "datetime", "date", "clock", "zeit", "uhrzeit",
        "datum", "zeitpunkt", "datum uhrzeit", "fecha", "hora", "fecha hora", "heure",
        "horodatage", "date heure", "local time", "time local",
    }
)  # fmt: skip
ELAPSED = frozenset(
    {
        "minutes", "minute", "min", "elapsed", "elapsed minutes", "elapsed min", "minuten",
        "minutos", "elapsed time min", "time min", "t min",
    }
)  # fmt: skip
OTHER = frozenset(
    {
        "no", "nr", "index", "record", "sample", "row", "battery", "battery v", "humidity", "rh",
        "note", "notes", "event", "comment", "status", "serial", "seconds",
    }
)  # fmt: skip
PLACE_WORDS = (
    ("mattress_core", ("mattress core", "mattress", "matratze", "colchon", "matelas", "core")),
    ("base_inside", ("box spring", "base", "inside base", "sommier", "unterbett")),
    ("headboard", ("headboard", "kopfteil", "cabecero", "tete de lit")),
    ("item_core", ("item", "bag core", "laundry", "load core")),
    ("luggage", ("luggage", "suitcase", "bag", "koffer")),
    ("furniture", ("furniture", "chair", "sofa", "nightstand", "drawer", "couch")),
    ("wall_void", ("wall", "void", "outlet", "socket")),
    ("floor_edge", ("floor", "skirting", "baseboard", "carpet")),
    ("air", ("air", "ambient", "room", "luft", "aire")),
)
"""Words in a heading and the place they mean; the first that fits counts."""
_FAHRENHEIT = re.compile(r"°\s*F\b|\bdeg\s*F\b|\(\s*F\s*\)|\[\s*F\s*\]|_F$|\bfahrenheit\b", re.I)
_CELSIUS = re.compile(r"°\s*C\b|\bdeg\s*C\b|\(\s*C\s*\)|\[\s*C\s*\]|_C$|\bcelsius\b", re.I)


def meaning_of(heading: str) -> str:
    """What a column holds: "time", "elapsed", "other", or "probe"."""
    said = fold(heading)
    if said in ELAPSED:
        return "elapsed"
    if said in TIME:
        return "time"
    if said in OTHER or said.startswith(("humidity", "rh ")):
        return "other"
    return "probe"


def place_of(heading: str) -> str:
    """Where a heading says that its probe lies; empty if it does not say."""
    said = f" {fold(heading)} "
    for place, words in PLACE_WORDS:
        if any(f" {word} " in said for word in words):
            return place
    return ""


def unit_of(heading: str) -> str:
    """The unit that a heading names: "c", "f", or empty for none."""
    if _FAHRENHEIT.search(heading):
        return "f"
    return "c" if _CELSIUS.search(heading) else ""
