"""How the day stands: a few large words each, with the lines that make them clear."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QLabel

from hotelwatch.screens.today.words_button import WordsButton, give_role, plain_label
from hotelwatch.wording.language import join

LINES = 3
"""So many lines stand below the words at most."""


class Tile(WordsButton):
    """Large words and lines below; pressed where there is something behind it."""

    larger_by = 1.5

    def __init__(self) -> None:
        """Says nothing yet."""
        super().__init__()
        self.setProperty("role", "tile")
        self.details: tuple[QLabel, ...] = tuple(plain_label(wraps=True) for _n in range(LINES))
        for label in (self.words, *self.details):
            self.lines.addWidget(label)
        self.lines.addStretch()

    def say(
        self, words: str, lines: Sequence[str], *, is_pressing: bool = False, leads: bool = True
    ) -> None:
        """Say words and lines; ``is_pressing`` where the first line wants somebody at once.

        With nothing behind it, it does not press.
        """
        self.words.setText(words)
        for number, label in enumerate(self.details):
            text = lines[number] if number < len(lines) else ""
            label.setText(text)
            label.setVisible(bool(text))
            give_role(label, "problem" if is_pressing and number == 0 else "muted")
        self.setEnabled(leads)
        self.setAccessibleName(words)
        self.setAccessibleDescription(join(tuple(lines)))
        self.updateGeometry()
