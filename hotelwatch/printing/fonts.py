"""Whether the fonts of this computer have the signs of a language."""

from __future__ import annotations

import unicodedata
from datetime import date

from PySide6.QtGui import QTextLayout

from hotelwatch.core.problems import Refusal
from hotelwatch.printing.page import BODY
from hotelwatch.wording import language
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.languages import language_name

MOST_NAMED = 8
MONTHS = range(1, 13)


def check_fonts() -> None:
    """Raise Refusal("no_font_for_language") where signs of the language spoken now are missing."""
    days = "".join(day_text(date(2026, month, month)) for month in MONTHS)
    missing = missing_signs(language.letters() + days)
    if missing:
        raise Refusal(
            "no_font_for_language",
            language=language_name(language.current()),
            signs=" ".join(missing[:MOST_NAMED]),
        )


def missing_signs(text: str) -> str:
    """The signs of a text that no installed font has, each once."""
    seen = sorted({sign for sign in text if unicodedata.category(sign)[0] not in "CZM"})
    if _is_whole("".join(seen)):
        return ""
    return "".join(sign for sign in seen if not _is_whole(sign))


def _is_whole(text: str) -> bool:
    """Whether every sign is drawn; a sign that no font has is drawn as its font's first, a box."""
    layout = QTextLayout(text, BODY.font)
    layout.beginLayout()
    while (line := layout.createLine()).isValid():
        line.setLineWidth(10**6)
    layout.endLayout()
    return all(0 not in run.glyphIndexes() for run in layout.glyphRuns())
