"""In which language sentences come out. English is the source; gettext does the rest."""

from __future__ import annotations

import gettext as _gettext
import re

from hotelwatch import paths

SOURCE = "en"
PSEUDO = "xx"
"""A made-up language, longer and accented, that shows clipped and unmarked text."""

DOMAIN = "hotelwatch"
_PLACE = re.compile(r"(\{[^{}]*\})")
_ACCENTED = str.maketrans("AEIOUCNSYaeioucnsy", "ÅÉÎÖÛÇÑŠÝåéîöûçñšý")
_LONGER_BY = 0.4


class _Pseudo(_gettext.NullTranslations):
    def gettext(self, message: str) -> str:
        parts = _PLACE.split(message)
        said = "".join(p if _PLACE.fullmatch(p) else p.translate(_ACCENTED) for p in parts)
        return f"[{said} {'~' * round(len(message) * _LONGER_BY)}]"

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return self.gettext(msgid1 if n == 1 else msgid2)


_spoken: tuple[str, _gettext.NullTranslations] = (SOURCE, _gettext.NullTranslations())


def use(code: str) -> None:
    """Speak this language from now on; English where it has no translation."""
    global _spoken
    if code == PSEUDO:
        _spoken = (PSEUDO, _Pseudo())
        return
    folder = paths.resources() / "translations"
    _spoken = (code, _gettext.translation(DOMAIN, folder, languages=[code], fallback=True))


def current() -> str:
    """The code of the language spoken now."""
    return _spoken[0]


def available() -> tuple[str, ...]:
    """Codes of the languages there are, English first."""
    folder = paths.resources() / "translations"
    found = {file.parents[1].name for file in folder.glob(f"*/LC_MESSAGES/{DOMAIN}.mo")}
    return (SOURCE, *sorted(found - {SOURCE}))


def _(message: str) -> str:
    """The message in the language spoken now."""
    return _spoken[1].gettext(message)


def ngettext(one: str, many: str, count: int) -> str:
    """The message that fits the count, in the language spoken now."""
    return _spoken[1].ngettext(one, many, count)


def marked(message: str) -> str:
    """The message as it is, marked for translation: for tables read at import."""
    return message


def join(parts: list[str] | tuple[str, ...]) -> str:
    """Parts in a row as one says them: "a, b and c"."""
    *before, last = parts or [""]
    if not before:
        return last
    return _("{all_but_last} and {last}").format(all_but_last=", ".join(before), last=last)
