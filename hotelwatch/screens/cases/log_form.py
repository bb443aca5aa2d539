"""The form that reads a log of probes: file, columns, what it would show, then keep it."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from PySide6.QtCore import QMimeData, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QAbstractSpinBox,
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.treatment import (
    LogLookedAt,
    LogOfRoom,
    keep_probe_log,
    look_at_log,
    rooms_of_case,
)
from hotelwatch.core.cases.case import Case
from hotelwatch.core.facts import RoomNo
from hotelwatch.core.lethal.dose import Method
from hotelwatch.intake.probe_file import ProbeMapping
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.cases.case_forms import CaseForm
from hotelwatch.screens.cases.log_columns import LogColumns
from hotelwatch.screens.forms.entry_form import clear_layout, text_label
from hotelwatch.screens.forms.fields import ChoiceField, DayField
from hotelwatch.wording.language import _, ngettext
from hotelwatch.wording.lethal import METHODS, headline, lack_sentence
from hotelwatch.wording.problems import place_in_file, sentence

LOG_FILES = "*.csv *.txt *.tsv *.xlsx *.ods"
MOST_PROBLEMS = 8


class LogFileField(QWidget):
    """The file of a log."""

    changed = Signal()

    def __init__(self, context: Context) -> None:
        """No file yet."""
        super().__init__()
        self.context = context
        self.path: Path | None = None
        self.choose = QPushButton(_("Choose the file…"))
        self.choose.setAutoDefault(True)
        self.choose.clicked.connect(self.ask)
        self.said = text_label("", role="muted")
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self.choose)
        line.addWidget(self.said, 1)
        self.setFocusProxy(self.choose)

    def take(self, path: Path | None) -> None:
        """Take this file; None for none."""
        self.path = path
        self.said.setText(path.name if path else self.hint())
        self.changed.emit()

    def to_keep(self) -> str | None:
        """Where the file lies, to be kept with a form that is half entered."""
        return str(self.path) if self.path is not None else None

    def take_kept(self, path: str) -> None:
        """Take the file again, if it is still there."""
        if Path(path).exists():
            self.take(Path(path))

    def hint(self) -> str:
        """What stands there while no file is chosen."""
        return _("or drop it here: a table with a column of times")

    def ask(self) -> None:
        """Let a person choose the file."""
        kinds = _("Logs ({patterns})").format(patterns=LOG_FILES)
        self.context.files.open(_("Choose a log of probes"), kinds, self.take)


class LogForm(CaseForm):
    """A log of heat or cold, read beside the window's own work and kept with the case."""

    def __init__(self, context: Context) -> None:
        """No file yet."""
        super().__init__(context, _("&Keep the log"))
        form = self.form
        self.looked: LogLookedAt | None = None
        self._readings_left = 0
        self.file = form.add(_("Fi&le"), LogFileField(context))
        self.room = form.add(_("Roo&m"), ChoiceField())
        methods = [(code, _(text)) for code, text in METHODS.items()]
        self.method = form.add(_("Metho&d"), ChoiceField(methods))
        self.day = form.add(_("Treated o&n"), DayField(context.hotel.today()))
        found = QWidget()
        found.setProperty("role", "plain")
        self._found = QVBoxLayout(found)
        self._found.setContentsMargins(0, 0, 0, 0)
        self.found = form.add(_("What it says"), found)
        form.show_field(found, visible=False)
        self.columns = form.add(_("Columns"), LogColumns(context.hotel.zone))
        form.show_field(self.columns, visible=False)
        self.file.changed.connect(self._read_new)
        self.columns.changed.connect(self._read_again)
        self.method.chosen.connect(self._read_again)
        self.lay_out()
        self.setAcceptDrops(True)
        self._leave_drops_to_form()
        self.setFocusProxy(self.file)

    def empty(self, case: Case) -> None:
        """No file, the case's first room."""
        self.title.setText(_("Log of probes in case {case}").format(case=case.no))
        house = self.context.hotel.house
        self.room.offer((room, room) for room in sorted(rooms_of_case(house, case.no)))
        self.room.choose(case.room)
        last = case.treatments[-1].treated_on if case.treatments else self.context.hotel.today()
        self.day.set_day(last)
        self.method.choose(Method.HEAT.value)
        self.file.take(None)

    def is_begun(self) -> bool:
        """Whether a file was chosen, or anything typed."""
        return self.file.path is not None or super().is_begun()

    def save(self) -> bool:
        """Keep the file and its readings with the case."""
        assert self.case is not None  # the form is shown only for a case
        room, method, path = self.room.value(), self.method.value(), self.file.path
        looked = self.looked
        if path is None or looked is None or self._readings_left:
            self.form.say(self.file, _("Choose the log, or wait until it is read."))
        elif not looked.log.is_good:
            self.form.say(self.found, _("Put right what is said above first."))
        if room is None:
            self.form.say(self.room, _("Choose the room that was treated."))
        if self.form.has_problems() or not (path and looked and room and method):
            return False
        of = LogOfRoom(self.case.no, RoomNo(room), self.day.day(), Method(method))
        label = keep_probe_log(self.context.hotel, path, looked.log, of)
        self.file.take(None)
        return self._saved(_("Log {log} is kept with the case.").format(log=label))

    def field_of(self, code: str) -> QWidget | None:
        """The field that a refusal concerns."""
        fields: dict[str, QWidget] = {
            "no_such_file": self.file,
            "paper_too_large": self.file,
            "log_kept_already": self.file,
            "day_to_come": self.day,
            "room_not_of_case": self.room,
        }
        return fields.get(code)

    # --- reading ------------------------------------------------------------------

    def _read_new(self) -> None:
        self.looked = None
        self.columns.probes = {}
        for widget in (self.columns, self.found):
            self.form.show_field(widget, visible=False)
        if self.file.path is not None:
            self._read(None)

    def _read_again(self, _what: object = None) -> None:
        if self.looked is not None:
            self._read(self.columns.mapping())

    def _read(self, mapping: ProbeMapping | None) -> None:
        path, method = self.file.path, self.method.value()
        if path is None or method is None:
            return
        self._readings_left += 1
        self.save_button.setEnabled(False)
        look = partial(look_at_log, method=Method(method), mapping=mapping)
        self.context.jobs.run(
            look,
            self.context.hotel.house,
            path,
            label=_("Reading {file}").format(file=path.name),
            on_done=self._show,
            on_failed=self._fail,
            on_stopped=self._stopped,
        )

    def _is_last(self) -> bool:
        """Whether the reading that ended is the one asked for last; only that one counts."""
        self._readings_left -= 1
        self.save_button.setEnabled(not self._readings_left)
        return not self._readings_left

    def _show(self, looked: LogLookedAt) -> None:
        if not self._is_last() or self.file.path is None:
            return
        is_new = self.looked is None
        self.looked = looked
        if is_new:
            self.columns.show_log(looked.log, self.day.day())
            self.form.show_field(self.columns, visible=True)
            self._leave_drops_to_form()
        self._say(looked)

    def _fail(self, error: Exception) -> None:
        if self._is_last() and self.file.path is not None:
            self.file.take(None)
            self.context.notices.fail(error)

    def _stopped(self) -> None:
        if self._is_last():
            self.file.take(None)

    # --- dropping a file ----------------------------------------------------------

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Let logs come; the window would take a table for a roster or for bookings."""
        if _logs_in(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Read the log dropped."""
        event.acceptProposedAction()
        logs = _logs_in(event.mimeData())
        if len(logs) == 1:
            self.form.clear()
            self.file.take(logs[0])
        else:
            self.form.say(self.file, _("Drop one log at a time."))

    def _leave_drops_to_form(self) -> None:
        """Else a field takes the file's name as text."""
        for kind in (QLineEdit, QComboBox, QAbstractSpinBox):
            for field in self.findChildren(kind):
                field.setAcceptDrops(False)

    def _say(self, looked: LogLookedAt) -> None:
        clear_layout(self._found)
        self.columns.ask_for(looked.log.problems)
        zone = self.context.hotel.zone
        problems = looked.log.problems
        for problem in problems[:MOST_PROBLEMS]:
            said = f"{place_in_file(problem)}: {' '.join(sentence(problem))}"
            self._found.addWidget(text_label(said, role="problem" if problem.blocking else ""))
        more = len(problems) - MOST_PROBLEMS
        if more > 0:
            said = ngettext("and {n} more like it", "and {n} more like these", more)
            self._found.addWidget(text_label(said.format(n=more), role="muted"))
        if looked.verdict is not None:
            self._found.addWidget(text_label(headline(looked.verdict)))
            for lack in looked.verdict.lacks:
                self._found.addWidget(text_label("•  " + lack_sentence(lack, zone)))
        self.form.show_field(self.found, visible=True)


def _logs_in(dragged: QMimeData) -> tuple[Path, ...]:
    """The files dragged that can be a log, if all can."""
    paths = tuple(Path(url.toLocalFile()) for url in dragged.urls() if url.isLocalFile())
    endings = {f"*{path.suffix.casefold()}" for path in paths}
    return paths if endings <= set(LOG_FILES.split()) else ()
