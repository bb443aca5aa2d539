"""Papers of a case: the form that keeps one, and the list that opens those kept."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hotelwatch.actions.treatment import PAPER_ENDINGS, keep_paper
from hotelwatch.core.cases.case import Case
from hotelwatch.core.treatment_facts import PaperKept, PaperKind
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.to_print import show_file
from hotelwatch.screens.cases.case_forms import CaseForm
from hotelwatch.screens.cases.log_form import LogFileField
from hotelwatch.screens.forms.entry_form import text_label
from hotelwatch.screens.forms.fields import ChoiceField
from hotelwatch.store.kept_files import kept_file
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.treatment import paper_sentence


class PaperFileField(LogFileField):
    """The file of a paper."""

    def hint(self) -> str:
        """What stands there while no file is chosen."""
        return _("or drop it here: a PDF, a picture, a text, a table or a mail")

    def ask(self) -> None:
        """Let a person choose the file."""
        patterns = " ".join(f"*{ending}" for ending in PAPER_ENDINGS)
        kinds = _("Papers ({patterns})").format(patterns=patterns)
        self.context.files.open(_("Choose a paper"), kinds, self.take)


class PaperForm(CaseForm):
    """A report, a receipt, a notice or another paper is kept with the case."""

    def __init__(self, context: Context) -> None:
        """No file yet."""
        super().__init__(context, _("&Keep the paper"))
        self.file = self.form.add(_("Fi&le"), PaperFileField(context))
        kinds = [(kind.value, label(kind)) for kind in PaperKind]
        self.what = self.form.add(_("Wha&t it is"), ChoiceField(kinds))
        self.caution.setText(
            _(
                "The file is kept as it is, and its name is printed with the case: no guest's name"
                " should stand in it."
            )
        )
        self.lay_out()
        self.setAcceptDrops(True)
        for kind in (QLineEdit, QComboBox):
            for field in self.findChildren(kind):
                field.setAcceptDrops(False)  # else a field takes the file's name as text
        self.setFocusProxy(self.file)

    def empty(self, case: Case) -> None:
        """No file, and nothing said of it."""
        self.title.setText(_("Paper for case {case}").format(case=case.no))
        self.file.take(None)
        self.what.choose(None)

    def is_begun(self) -> bool:
        """Whether a file or a kind was chosen, or anything typed."""
        chosen = self.file.path is not None or self.what.value() is not None
        return chosen or super().is_begun()

    def save(self) -> bool:
        """Keep a copy of the file beside the hotel's."""
        assert self.case is not None  # the form is shown only for a case
        path, what = self.file.path, self.what.value()
        if path is None:
            self.form.say(self.file, _("Choose a file, or drag one onto the form."))
        if what is None:
            self.form.say(self.what, _("Say what it is."))
        if path is None or what is None:
            return False
        kept = keep_paper(self.context.hotel, self.case.no, path, what=PaperKind(what))
        self.file.take(None)
        self.what.choose(None)
        return self._saved(paper_sentence(kept))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        of_file = ("no_such_file", "not_a_paper", "paper_too_large", "paper_kept_already")
        return self.file if code in of_file else None

    # --- dropping a file ----------------------------------------------------------

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Let files come; the window would take a table for a roster or for bookings."""
        if _files_in(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Take the file dropped."""
        event.acceptProposedAction()
        files = _files_in(event.mimeData())
        if len(files) == 1:
            self.form.clear()
            self.file.take(files[0])
        else:
            self.form.say(self.file, _("Drop one paper at a time."))


class PaperList(QWidget):
    """The papers kept with a case, each with a button that opens it."""

    def __init__(self, context: Context, papers: Sequence[PaperKept]) -> None:
        """These papers, in the order in which they were kept."""
        super().__init__()
        self.setProperty("role", "plain")
        self._context = context
        self.buttons: list[QPushButton] = []
        lines = QVBoxLayout(self)
        lines.setContentsMargins(0, 0, 0, 0)
        for kept in papers:
            lines.addWidget(self._line(kept))

    def _line(self, kept: PaperKept) -> QWidget:
        held = QWidget()
        held.setProperty("role", "plain")
        line = QHBoxLayout(held)
        line.setContentsMargins(0, 0, 0, 0)
        path = kept_file(self._context.hotel.path, kept.sha256)
        line.addWidget(text_label(paper_sentence(kept)), 1)
        if path is None:
            line.addWidget(text_label(_("No longer beside the hotel's file."), role="muted"), 1)
            return held
        button = QPushButton(_("Open"))
        button.setAutoDefault(True)
        button.setAccessibleName(_("Open {file}").format(file=kept.file_name))
        button.clicked.connect(partial(self._open, path))
        self.buttons.append(button)
        line.addWidget(button, alignment=Qt.AlignmentFlag.AlignTop)
        return held

    def _open(self, path: Path) -> None:
        show_file(self._context, path)


def _files_in(dragged: QMimeData) -> tuple[Path, ...]:
    """The files dragged, whatever they are: what is no paper is said when it is kept."""
    return tuple(Path(url.toLocalFile()) for url in dragged.urls() if url.isLocalFile())
