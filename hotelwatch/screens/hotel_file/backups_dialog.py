"""The box of backups: when they are made and where, which there are, and going back to one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, tzinfo
from pathlib import Path

from PySide6.QtCore import QSize, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QListWidget,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hotelwatch.actions.backups import Listed, Made, Restoring, backs_up
from hotelwatch.core.backups import RULE
from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.house import House
from hotelwatch.core.profile import CHOICES
from hotelwatch.core.record_facts import RecordRestored
from hotelwatch.screens.at_hand.jobs import JobBar, Jobs
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.at_hand.who_may import Deed, Seated, offer
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.layout.box import Box
from hotelwatch.screens.look.theme import MAIN, Tone
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable
from hotelwatch.wording.backups import (
    aside_text,
    back_to_text,
    checked_text,
    kept_text,
    loss_heading,
    loss_lines,
    made_text,
    size_text,
    state_text,
)
from hotelwatch.wording.copies import changed_lines, unreached_lines
from hotelwatch.wording.dates import moment_text
from hotelwatch.wording.language import _
from hotelwatch.wording.problems import refusal_sentence
from hotelwatch.wording.profiles import choice_name

WISHED = QSize(900, 660)
LIST_SHARE = 50


@dataclass(frozen=True, slots=True)
class Kept:
    """What the box shows: the backups, where copies go, and the hotel's choices if it is open."""

    listed: tuple[Listed, ...]
    place: str
    zone: tzinfo
    house: House | None


@dataclass(frozen=True, slots=True)
class Row:
    """A backup as the table shows it."""

    listed: Listed
    made: str
    state: str
    holds: bool


class BackupsDialog(Box):
    """Backups of one hotel's file; it asks for deeds, and is told how they went."""

    back_up_wanted = Signal()
    check_wanted = Signal()
    restore_wanted = Signal(object)
    """A Listed: tell what going back to it would lose."""
    going_back = Signal(object, str)
    """What was told, and the person's reason: do it."""
    place_wanted = Signal()
    no_place_wanted = Signal()
    when_chosen = Signal(str)
    folder_wanted = Signal(object)

    def __init__(self, path: Path, jobs: Jobs, *, seated: Seated | None, parent: QWidget) -> None:
        """An empty box; ``show_kept`` fills it. ``seated`` is None where no hotel is open."""
        super().__init__(_("Backups"), parent, wished=WISHED)
        self.path = path
        self.listed: tuple[Listed, ...] = ()
        self._faults: Mapping[Path, int] = {}
        self._zone: tzinfo = UTC
        self._told: Restoring | None = None
        self._may_choose = seated is None or seated.may(RuleChosen)
        self._may_restore = seated is None or seated.may(RecordRestored)
        self.notices = Notices()
        self._make_choices()
        self._make_table()
        self._make_loss()
        for widget in (self.notices, self.choices, self.keeping):
            self.lines.addWidget(widget)
        self.lines.addWidget(self.table, 1)
        self.lines.addWidget(self.loss_pane)
        self.lines.addWidget(JobBar(jobs))
        self.lines.addLayout(self._make_buttons())
        if seated is not None:
            self._say_who_may(seated)

    # --- being told -----------------------------------------------------------------

    def show_kept(self, kept: Kept) -> None:
        """Show these backups and choices."""
        self.listed, self._zone = kept.listed, kept.zone
        self.when.setEnabled(kept.house is not None and self._may_choose)
        self.back_up.setEnabled(kept.house is not None)
        if kept.house is not None:
            self.when.setCurrentIndex(self.when.findData(backs_up(kept.house)))
            self.keeping.setText(kept_text(kept.house.rules.figures))
        self.place.setText(kept.place)
        self.no_place.setEnabled(bool(kept.place))
        self._show_rows()

    def tell_made(self, made: Made) -> None:
        """Say how a backup went."""
        if made.copy_refused is not None:
            self.notices.warn(" ".join(refusal_sentence(made.copy_refused)).strip())
        if left := list(unreached_lines(made.reached)):
            self.notices.warn("\n".join(left))
        made_said = made_text(made.backup.name, is_new=made.is_new, pruned=made.pruned)
        self.notices.done("\n".join((made_said, *changed_lines(made.reached))))

    def tell_checked(self, faults: Mapping[Path, int]) -> None:
        """Say which backups hold."""
        self._faults = faults
        self._show_rows()
        bad = sum(1 for count in faults.values() if count)
        tell = self.notices.warn if bad else self.notices.done
        tell(checked_text(len(faults), bad))

    def tell_loss(self, told: Restoring) -> None:
        """Say what going back would lose, before it is done."""
        self._told = told
        self.notices.clear()
        made = (one.backup.made_at for one in self.listed if one.path == told.backup)
        self.back_to.setText(back_to_text(next(made, None), told.back_to, self._zone))
        self.loss.setText(loss_heading(told))
        self.loss_list.clear()
        self.loss_list.addItems(list(loss_lines(told.loss)))
        self.loss_list.setVisible(self.loss_list.count() > 0)
        self._show_loss(shown=True)
        self.reason.setFocus()

    # --- making ---------------------------------------------------------------------

    def _make_choices(self) -> None:
        self.choices = Form()
        self.when = QComboBox()
        for choice in CHOICES[RULE].values:
            self.when.addItem(choice_name(RULE, choice), choice)
        self.when.activated.connect(self._choose_when)
        self.choices.add(_("Made by the&mselves"), self.when, hint=_("The hotel's choice."))
        self.place = QLineEdit(readOnly=True, placeholderText=_("No copy elsewhere"))
        self.choose_place = QPushButton(_("Choo&se…"))
        self.choose_place.setAccessibleName(_("Choose where copies go"))
        self.choose_place.clicked.connect(self.place_wanted)
        self.no_place = QPushButton(_("&No copy"))
        self.no_place.clicked.connect(self.no_place_wanted)
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self.place, 1)
        line.addWidget(self.choose_place)
        line.addWidget(self.no_place)
        self.place.setAccessibleName(_("Copied also to"))
        row.setFocusProxy(self.place)
        hint = _("A folder on another disk or share, on this computer.")
        self.choices.add(_("C&opied also to"), row, hint=hint)
        self.keeping = QLabel(wordWrap=True)
        self.keeping.setProperty("role", "muted")

    def _make_table(self) -> None:
        self.table: RowTable[Row] = RowTable(
            [
                Column[Row](_("Made"), lambda row: row.made, sort=_made_at),
                Column[Row](_("Last entry"), lambda row: str(row.listed.backup.last_entry)),
                Column[Row](_("Size"), lambda row: size_text(row.listed.backup.size)),
                Column[Row](
                    _("State"),
                    lambda row: row.state,
                    tint=lambda row: None if row.holds else Tone.LATE,
                ),
                Column[Row](
                    _("Folder"),
                    lambda row: str(row.listed.folder),
                    hint=lambda row: str(row.listed.folder),
                ),
            ],
            key=lambda row: str(row.listed.path),
            name=_("Backups"),
            empty=Empty(_("There is no backup yet.")),
            filtered=False,
        )
        self.table.activated.connect(self._ask_restore)
        self.table.current_changed.connect(self._take_place)

    def _make_loss(self) -> None:
        self.back_to = QLabel(wordWrap=True)
        self.loss = QLabel(wordWrap=True)
        self.loss.setProperty("role", "heading")
        self.loss_list = QListWidget()
        self.loss_list.setWordWrap(True)
        self.loss_list.setAccessibleName(_("What would be lost"))
        kept = QLabel(aside_text(f"{self.path.stem}-aside-…"), wordWrap=True)
        self.reason = QLineEdit()
        form = Form()
        form.add(_("Re&ason"), self.reason, hint=_("It stands in the record."))
        self.go_back = QPushButton(_("Go back &to this backup"))
        self.go_back.setEnabled(False)
        self.reason.textChanged.connect(self._take_reason)
        self.go_back.clicked.connect(self._go_back)
        self.stay = QPushButton(_("Kee&p the present record"))
        self.stay.clicked.connect(self._stay)
        line = QHBoxLayout()
        line.addStretch()
        line.addWidget(self.stay)
        line.addWidget(self.go_back)
        self.loss_pane = QWidget()
        lines = QVBoxLayout(self.loss_pane)
        lines.setContentsMargins(0, 0, 0, 0)
        lines.addWidget(self.back_to)
        lines.addWidget(self.loss)
        lines.addWidget(self.loss_list, LIST_SHARE)
        lines.addWidget(kept)
        lines.addWidget(form)
        lines.addLayout(line)
        lines.addStretch(1)  # keeps it together where there is no list
        self.loss_pane.hide()

    def _make_buttons(self) -> QHBoxLayout:
        self.back_up = QPushButton(_("&Back up now"))
        self.back_up.setProperty("role", MAIN)
        self.back_up.clicked.connect(self.back_up_wanted)
        self.check = QPushButton(_("Chec&k all"))
        self.check.clicked.connect(self.check_wanted)
        self.restore = QPushButton(_("&Restore…"))
        self.restore.setEnabled(False)
        self.restore.clicked.connect(self._ask_restore_current)
        self.folder = QPushButton(_("Show the fol&der"))
        self.folder.clicked.connect(self._ask_folder)
        close = QPushButton(_("Close"))
        close.clicked.connect(self.reject)
        line = QHBoxLayout()
        self._list_buttons = (self.back_up, self.check, self.restore, self.folder)
        for button in self._list_buttons:
            line.addWidget(button)
        line.addStretch()
        line.addWidget(close)
        return line

    def _say_who_may(self, seated: Seated) -> None:
        line = offer(
            seated,
            Deed(_("Choose when they are made"), (RuleChosen,)),
            Deed(_("Go back to a backup"), (RecordRestored,), (self.restore,)),
        )
        self.lines.insertWidget(self.lines.count() - 1, line)

    # --- doing ----------------------------------------------------------------------

    def _show_rows(self) -> None:
        self.table.show_rows([self._row(one) for one in self.listed])
        self.check.setEnabled(bool(self.listed))
        self.folder.setEnabled(bool(self.listed))

    def _row(self, one: Listed) -> Row:
        faults = self._faults.get(one.path)
        holds = one.backup.is_sound and not faults
        state = state_text(is_checked=faults is not None, holds=holds)
        return Row(one, moment_text(one.backup.made_at, self._zone), state, holds)

    def _take_place(self, row: Row | None) -> None:
        self.restore.setEnabled(row is not None)

    def _ask_restore(self, row: Row) -> None:
        if self._may_restore:
            self.restore_wanted.emit(row.listed)

    def _ask_restore_current(self) -> None:
        row = self.table.current()
        if row is not None:
            self._ask_restore(row)

    def _ask_folder(self) -> None:
        self.folder_wanted.emit(self.listed[0].folder)

    def _choose_when(self, _place: int) -> None:
        self.when_chosen.emit(self.when.currentData())

    def _take_reason(self, text: str) -> None:
        self.go_back.setEnabled(bool(text.strip()))

    def _go_back(self) -> None:
        if self._told is not None:
            self.going_back.emit(self._told, self.reason.text().strip())

    def _stay(self) -> None:
        self._told = None
        self._show_loss(shown=False)
        self.table.setFocus()

    def _show_loss(self, *, shown: bool) -> None:
        """Show what would be lost in place of the list; one thing is decided at a time."""
        self.loss_pane.setVisible(shown)
        for widget in (self.table, self.choices, self.keeping, *self._list_buttons):
            widget.setVisible(not shown)


def _made_at(row: Row) -> str:
    return row.listed.backup.made_at.isoformat()
