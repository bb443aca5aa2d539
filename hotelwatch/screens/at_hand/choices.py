"""The person's choices on this computer, kept in a small TOML file in the config folder."""

from __future__ import annotations

import json
import logging
import tomllib
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from hotelwatch.screens.look.theme import TextSize, Theme

FILE_NAME = "window.toml"
MOST_RECENT = 8
MOST_NAMES = 40
LOG = logging.getLogger("hotelwatch")


@dataclass(frozen=True, slots=True)
class Choices:
    """What the window remembers. Nothing of the hotel is kept here but its file's place."""

    theme: str = Theme.SYSTEM.value
    text_size: str = TextSize.NORMAL.value
    width: int = 1280
    height: int = 800
    is_maximised: bool = False
    written_by: str = ""
    """Who sits at this desk: stands beside every entry written here."""
    last_file: str = ""
    copy_backups_to: str = ""
    """A folder on another disk or share; empty: backups are not copied elsewhere."""
    recent: tuple[str, ...] = ()
    guided: tuple[str, ...] = ()
    """How far one is on the way through a hotel: its file, a tab, a step or "closed"."""
    names: tuple[str, ...] = ()
    """Names typed as having looked or seen, those used last first."""

    @property
    def backup_place(self) -> Path | None:
        """The folder on another disk or share to which backups are copied."""
        return Path(self.copy_backups_to) if self.copy_backups_to else None

    def opened(self, path: Path) -> Choices:
        """After a file was opened: it is the last one, and first of the recent ones."""
        recent = tuple(dict.fromkeys((str(path), *self.recent)))[:MOST_RECENT]
        return replace(self, last_file=str(path), recent=recent)

    def without(self, path: str) -> Choices:
        """After a file was found to be gone."""
        last = "" if self.last_file == path else self.last_file
        return replace(self, last_file=last, recent=tuple(r for r in self.recent if r != path))

    def forgetting(self, paths: tuple[str, ...]) -> Choices:
        """After the person asked to forget files: they are not offered any more."""
        return replace(self, recent=tuple(one for one in self.recent if one not in paths))

    def with_names(self, names: tuple[str, ...]) -> Choices:
        """After names were used."""
        return replace(self, names=tuple(dict.fromkeys((*names, *self.names)))[:MOST_NAMES])


class ChoiceStore:
    """Holds the choices while the program runs and writes them when they change."""

    def __init__(self, folder: Path) -> None:
        """Read the choices of this folder; where there are none, start with ours."""
        self._path = folder / FILE_NAME
        self.choices = read_choices(self._path)

    def keep(self, choices: Choices) -> None:
        """Remember these. A folder that can't be written to is no reason to stop work."""
        if choices == self.choices:
            return
        self.choices = choices
        try:
            write_choices(self._path, choices)
        except OSError as error:
            LOG.warning("choices were not kept: %s", error)

    def names(self) -> tuple[str, ...]:
        """Names known on this computer, those used last first."""
        return self.choices.names

    def remember(self, names: tuple[str, ...]) -> None:
        """Offer these names first from now on."""
        self.keep(self.choices.with_names(names))


def read_choices(path: Path) -> Choices:
    """The choices of a file; what it lacks or has wrong is as shipped."""
    try:
        said = tomllib.loads(path.read_text("utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError):
        return Choices()
    shipped = asdict(Choices())
    fitting = {key: _as_kept(said[key], shipped[key]) for key in shipped if key in said}
    choices = Choices(**{key: value for key, value in fitting.items() if value is not None})
    if choices.theme not in set(Theme):
        choices = replace(choices, theme=Theme.SYSTEM.value)
    if choices.text_size not in set(TextSize):
        choices = replace(choices, text_size=TextSize.NORMAL.value)
    return choices


def write_choices(path: Path, choices: Choices) -> None:
    """Write the choices beside the old file, then put them in its place."""
    lines = [f"{key} = {_toml(value)}" for key, value in asdict(choices).items()]
    beside = path.with_suffix(".new")
    beside.write_text("\n".join(lines) + "\n", "utf-8")
    beside.replace(path)


def _as_kept(said: object, shipped: object) -> Any:  # noqa: ANN401
    if isinstance(shipped, tuple):
        is_list = isinstance(said, list) and all(isinstance(one, str) for one in said)
        return tuple(said) if is_list and isinstance(said, list) else None
    return said if type(said) is type(shipped) else None


def _toml(value: object) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(_toml(one) for one in value)}]"
    # A TOML basic string is written as a JSON string, but for DEL.
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
