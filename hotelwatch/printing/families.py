"""Which fonts papers are set in, by the language that is spoken."""

from __future__ import annotations

import re

from hotelwatch.wording.language import current

FAMILIES = (
    "Noto Sans",
    "DejaVu Sans",
    "Liberation Sans",
    "Arial",
    "Helvetica",
)
"""For signs that none of them has, Qt looks through what else is installed."""
FIRST_FOR = {
    "ar": ("DejaVu Sans", "Segoe UI", "Arial"),
    "zh": (
        "Noto Sans CJK SC",
        "WenQuanYi Micro Hei",
        "Droid Sans Fallback",
        "Microsoft YaHei",
        "PingFang SC",
    ),
}
"""Fonts that have all signs of a language, so that none comes out of another script's font,
and whose lines are not taller than a row of boxes."""
RIGHT_TO_LEFT_LETTER = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]")


def families() -> list[str]:
    """Families of the language spoken now, the best first."""
    return [*FIRST_FOR.get(current().partition("_")[0], ()), *FAMILIES]
