"""The language of a team's sheets: read from the translators' files once the field is shown."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox

from hotelwatch.wording import language
from hotelwatch.wording.languages import language_note


class LanguageField(QComboBox):
    """The languages that there are, English first, each with who has checked it."""

    def __init__(self) -> None:
        """None offered yet: reading who checked which takes a quarter of a second."""
        super().__init__()
        self._wanted = language.SOURCE
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)

    def offer(self) -> None:
        """Offer every language, once."""
        if not self.count():
            for code in language.available():
                self.addItem(language_note(code), code)
            self.choose(self._wanted)

    def choose(self, code: str) -> None:
        """Choose a language; English where it is empty or not there."""
        self._wanted = code or language.SOURCE
        self.setCurrentIndex(max(0, self.findData(self._wanted)) if self.count() else -1)

    def code(self) -> str:
        """The code chosen; empty for English, which is what a team has that chose nothing."""
        code = str(self.currentData()) if self.count() else self._wanted
        return "" if code == language.SOURCE else code
