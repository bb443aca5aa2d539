"""Why a sheet was not printed, and what would let it be."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

SHEETS: dict[str, tuple[str, str]] = {
    "unknown_language": (
        m("There are no sheets in the language “{language}”."),
        m("Choose one of these: {codes}."),
    ),
    "no_font_for_language": (
        m("No font of this computer has every sign of {language} ({signs} …)."),
        m("Nothing was printed. Install a font that has them: README, “Run it”, names one."),
    ),
    "nothing_to_look_at": (
        m("Case {case} wants no room looked at now."),
        m("Its list, “Other rooms”, says how each of its rooms stands."),
    ),
}
