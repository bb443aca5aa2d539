"""In which language sentences come out. English is the source; gettext does the rest.

Translators' files lie in ``resources/translations/<code>/LC_MESSAGES/hotelwatch.po`` and are
read as they are when their language is first spoken.
"""

from __future__ import annotations

import gettext as _gettext
import io
import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache
from pathlib import Path

from hotelwatch import paths

SOURCE = "en"
PSEUDO = "xx"
"""A made-up language, longer and accented, that shows clipped and unmarked text."""

DOMAIN = "hotelwatch"
BOOK = "book"
"""Domain of what workbooks say and teams' sheets do not: English where it is not translated."""
CHECKED = re.compile(r"^# Checked by a native speaker: *(\S.*?)\.?$", re.MULTILINE)
"""Line of a file's head that says who has checked it; "nobody" where nobody has."""
NOBODY = "nobody"
_OWN = (SOURCE, PSEUDO)
_RIGHT_TO_LEFT = frozenset({"ar", "fa", "he", "ur"})
_PLACE = re.compile(r"(\{[^{}]*\})")
_ACCENTED = str.maketrans("AEIOUCNSYaeioucnsy", "ÅÉÎÖÛÇÑŠÝåéîöûçñšý")
_LONGER_BY = 0.4
_LEFT_TO_RIGHT, _FROM_RIGHT, _POP = "\u2066", "\u2067", "\u2069"
"""Marks around a piece of text that keeps its own direction."""
_RIGHT_TO_LEFT_LETTER = re.compile("[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc]")


class _Pseudo(_gettext.NullTranslations):
    def gettext(self, message: str) -> str:
        parts = _PLACE.split(message)
        said = "".join(p if _PLACE.fullmatch(p) else p.translate(_ACCENTED) for p in parts)
        return f"[{said} {'~' * round(len(message) * _LONGER_BY)}]"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)


_default: tuple[str, _gettext.NullTranslations] = (SOURCE, _gettext.NullTranslations())
_here: ContextVar[tuple[str, _gettext.NullTranslations] | None] = ContextVar("spoken", default=None)
"""What ``speaking`` chose, in this thread and for this block alone."""


def use(code: str) -> None:
    """Speak this language from now on, in every thread; English where it has no translation."""
    global _default
    _default = (code, _translations(code))


@contextmanager
def speaking(code: str) -> Iterator[None]:
    """Speak a language within a block and in its thread only; empty for what is spoken anyway.

    One that is not there, named in a file of another release, is spoken as English.
    """
    if not code:
        yield
        return
    code = code if code in (*available(), PSEUDO) else SOURCE
    token = _here.set((code, _translations(code)))
    try:
        yield
    finally:
        _here.reset(token)


def current() -> str:
    """The code of the language spoken now."""
    return _spoken()[0]


def available() -> tuple[str, ...]:
    """Codes of the languages there are, English first."""
    found = {file.parents[1].name for file in _folder().glob(f"*/LC_MESSAGES/{DOMAIN}.po")}
    return (SOURCE, *sorted(found - {SOURCE}))


def is_right_to_left() -> bool:
    """Whether the language spoken now is written from right to left."""
    return current().partition("_")[0] in _RIGHT_TO_LEFT


def letters() -> str:
    """Every sign that the language spoken now needs, each once; empty for the source."""
    translations = _spoken()[1]
    return translations.letters if isinstance(translations, _Translations) else ""


def checked_by() -> str:
    """The native speaker who has checked the language spoken now; empty where nobody has."""
    translations = _spoken()[1]
    return translations.checked_by if isinstance(translations, _Translations) else ""


def is_unchecked() -> bool:
    """Whether the language spoken now is a translation that no native speaker has checked."""
    return current() not in _OWN and not checked_by()


def has_books() -> bool:
    """Whether all that workbooks say is there in the language spoken now."""
    return current() in _OWN or (_folder() / current() / "LC_MESSAGES" / f"{BOOK}.po").is_file()


def _(message: str) -> str:
    """The message in the language spoken now."""
    return _isolating(_spoken()[1].gettext(message))


def ngettext(one: str, many: str, count: int) -> str:
    """The message that fits the count, in the language spoken now."""
    return _isolating(_spoken()[1].ngettext(one, many, count))


def marked(message: str) -> str:
    """The message as it is, marked for translation: for tables read at import."""
    return message


def join(parts: list[str] | tuple[str, ...]) -> str:
    """Parts in a row as one says them: "a, b and c"."""
    *before, last = parts or [""]
    if not before:
        return last
    return _("{all_but_last} and {last}").format(all_but_last=listed(before), last=last)


def listed(parts: list[str] | tuple[str, ...]) -> str:
    """Parts in a row, none of them the last: "a, b, c"."""
    first, *rest = parts or [""]
    for following in rest:
        first = _("{first}, {next}").format(first=first, next=following)
    return first


# --- translations -------------------------------------------------------------------------


class _Translations(_gettext.GNUTranslations):
    """What a translator wrote."""

    letters = ""
    checked_by = ""


class _Isolating(str):
    """A message written from right to left: what is put into it keeps its own direction.

    Without it "0104/A" would be read as "A/0104" there. The direction is named, since the
    first strong letter is looked for outside of what is isolated already. Source: Unicode
    Standard Annex 9, sections 2.4.1 and 2.4.2, rule P2.
    """

    __slots__ = ()

    def format(self, *args: object, **values: object) -> str:
        return super().format(*args, **{name: _apart(str(v)) for name, v in values.items()})


def _apart(value: str) -> str:
    begins = _FROM_RIGHT if _RIGHT_TO_LEFT_LETTER.search(value) else _LEFT_TO_RIGHT
    return f"{begins}{value}{_POP}"


def _isolating(message: str) -> str:
    return _Isolating(message) if is_right_to_left() and "{" in message else message


def _spoken() -> tuple[str, _gettext.NullTranslations]:
    return _here.get() or _default


def _folder() -> Path:
    return paths.resources() / "translations"


def _translations(code: str) -> _gettext.NullTranslations:
    if code == PSEUDO:
        return _Pseudo()
    file = _folder() / code / "LC_MESSAGES" / f"{DOMAIN}.po"
    if code == SOURCE or not file.is_file():
        return _gettext.NullTranslations()
    return _with_book(file)


@lru_cache(maxsize=32)
def _with_book(file: Path) -> _Translations:
    translations, of_books = _read(file), file.with_name(f"{BOOK}.po")
    if of_books.is_file():
        translations.add_fallback(_read(of_books))
    return translations


@lru_cache(maxsize=32)
def _read(file: Path) -> _Translations:
    # Babel's reader is loaded only where another language than English is spoken.
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    with file.open("rb") as source:
        catalog = read_po(source, locale=file.parents[1].name)
    compiled = io.BytesIO()
    write_mo(compiled, catalog)
    compiled.seek(0)
    translations = _Translations(compiled)
    checked = CHECKED.search(catalog.header_comment)
    if checked is not None and checked[1] != NOBODY:
        translations.checked_by = checked[1]
    said = (text for row in catalog if row.id for text in _strings(row.string))
    translations.letters = "".join(sorted({sign for text in said for sign in text}))
    return translations


def _strings(said: str | tuple[str, ...] | list[str] | None) -> tuple[str, ...]:
    return (said,) if isinstance(said, str) else tuple(said or ())
