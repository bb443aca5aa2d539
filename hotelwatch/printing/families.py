"""Which fonts papers are set in, by the language that is spoken."""

from __future__ import annotations

import re

from hotelwatch.wording.language import current

FAMILIES = (
    "Noto Sans",
    "Noto Sans Arabic",
    "DejaVu Sans",
    "Liberation Sans",
    "Arial",
    "Helvetica",
)
"""For signs that none of them has, Qt looks through what else is installed."""
FIRST_FOR = {
    "zh": (
        "Noto Sans CJK SC",
        "WenQuanYi Micro Hei",
        "Droid Sans Fallback",
        "Microsoft YaHei",
        "PingFang SC",
    )
}
"""Fonts without which stops and single signs would come out of some other script's font."""
RIGHT_TO_LEFT_LETTER = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]")


def families() -> list[str]:
    """Families of the language spoken now, the best first."""
    return [*FIRST_FOR.get(current().partition("_")[0], ()), *FAMILIES]
