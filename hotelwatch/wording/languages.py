"""The languages that sheets can be printed in, as one chooses among them."""

from __future__ import annotations

from babel import Locale

from hotelwatch.wording import language
from hotelwatch.wording.language import _


def language_name(code: str) -> str:
    """A language as it is called in English and by those who speak it: "Spanish (español)"."""
    named = Locale.parse(code, sep="_")
    english, own = named.get_display_name(language.SOURCE), named.get_display_name()
    if english == own:
        return str(english)
    return _("{language} ({own})").format(language=english, own=own)


def book_language_name(code: str) -> str:
    """A language as one chooses it for a workbook: what stays in English is said."""
    with language.speaking(code):
        is_whole = language.has_books()
    if is_whole:
        return language_name(code)
    return _("{language}, most of it in English").format(language=language_name(code))


def language_note(code: str) -> str:
    """Its name, and whether a native speaker has checked it."""
    with language.speaking(code):
        is_unchecked = language.is_unchecked()
    if is_unchecked:
        return _("{language}, not checked by a native speaker").format(language=language_name(code))
    return language_name(code)
