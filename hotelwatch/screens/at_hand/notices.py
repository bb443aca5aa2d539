"""What the window tells and asks, in bars at the top of a page; nothing here stops the work.

::

    context.notices.refuse(refusal)                       # not allowed now: what, and the mend
    context.notices.done(_("3 sheets printed."), _("Open"), self.open_sheets)
    context.notices.warn(_("The file is read-only."))
    context.notices.ask(_("Throw the draft away?"), _("Throw away"), self.forget_draft)
    context.notices.bug(error)                            # ours: a calm dialog, details to copy

    with context.notices.refusals():                      # a slot's action in one line
        actions.rounds.publish(context.hotel, self.draft)

Actions are bound methods; they run when the button is pressed. Texts can be selected.
No dialog is run to its end in place: nothing here waits.
"""

from __future__ import annotations

import logging
import platform
import traceback
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial

from PySide6.QtCore import QEvent, QSize, Qt, Signal, SignalInstance
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QGuiApplication, QKeyEvent
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPlainTextEdit,
    QPushButton,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

import hotelwatch
from hotelwatch.core.problems import InputRefused, Refusal
from hotelwatch.screens.layout.box import Box
from hotelwatch.screens.layout.enter import let_enter_press, press_tool_button
from hotelwatch.screens.look.icons import icon
from hotelwatch.screens.look.theme import MAIN, Tone, colours_of
from hotelwatch.wording.language import _
from hotelwatch.wording.problems import refusal_sentence, sentence

Act = Callable[[], object]
Step = tuple[str, Act]
"""What a button says, and what it does."""
MOST_BARS = 3
MOST_PROBLEMS_TOLD = 5
BUG_SIZE = QSize(640, 380)
LOG = logging.getLogger("hotelwatch")
WORDS = {
    Tone.LATE: "!",
    Tone.DUE: "!",
    Tone.DONE: "✓",
    Tone.ASKED: "?",
}


class Bar(QFrame):
    """One thing told: a sign, its text, perhaps buttons, and a way to put it away."""

    closed = Signal(object)

    def __init__(self, text: str, tone: Tone, acts: Sequence[tuple[str, Act | None]] = ()) -> None:
        """Say this; each button puts the bar away and does its act."""
        super().__init__()
        self.tone, self.is_of_deed = tone, False
        self.setProperty("role", "notice")
        self.setProperty("tone", str(tone))
        sign = QLabel(WORDS.get(tone, "•"))
        sign.setProperty("role", "heading")
        self.label = QLabel(text, wordWrap=True)
        self.label.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse
            | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self.label.setAccessibleName(text)
        line = QHBoxLayout(self)
        line.setContentsMargins(12, 4, 6, 4)
        line.addWidget(sign)
        line.addWidget(self.label, 1)
        self.buttons = [self._make_button(said, act) for said, act in acts if said]
        for button in self.buttons:
            line.addWidget(button)
        self.put_away = QToolButton()
        self.put_away.setProperty("role", "close")
        self.put_away.setIconSize(QSize(16, 16))
        self.put_away.setAccessibleName(_("Put this notice away"))
        self.put_away.setToolTip(_("Put away"))
        self.put_away.clicked.connect(self.go)
        line.addWidget(self.put_away)
        let_enter_press(self)
        self._draw_icon()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter put the bar away, as Space does."""
        if not press_tool_button(self, event):
            super().keyPressEvent(event)

    def changeEvent(self, event: QEvent) -> None:
        """Draw the icon anew in another look."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange and hasattr(self, "put_away"):
            self._draw_icon()

    def _draw_icon(self) -> None:
        tint = colours_of(self.palette()).tones[self.tone]
        self.put_away.setIcon(icon("close", tint.ink))

    @property
    def button(self) -> QPushButton:
        """The first button."""
        return self.buttons[0]

    def _make_button(self, said: str, act: Act | None) -> QPushButton:
        button = QPushButton(said)
        button.clicked.connect(partial(self._do, act))
        return button

    def _do(self, act: Act | None, _checked: bool = False) -> None:
        self.go()
        if act is not None:
            act()

    def go(self) -> None:
        """Put itself away."""
        self.closed.emit(self)


class Notices(QWidget):
    """The bars at the top of a page, newest first."""

    def __init__(self) -> None:
        """Nothing to tell yet."""
        super().__init__()
        self._bars: list[Bar] = []
        self._lines = QVBoxLayout(self)
        self._lines.setContentsMargins(0, 0, 0, 0)
        self._lines.setSpacing(6)
        self.bug_dialog: BugDialog | None = None
        self.offer: Callable[[], Step | None] = _nothing_more
        """One more button for what was just done: to undo it."""
        self.hide()

    # --- telling ------------------------------------------------------------

    def done(self, text: str, act_text: str = "", act: Act | None = None) -> Bar:
        """Say that something was done, perhaps with a button to look at it."""
        self._drop(Tone.DONE)
        more = self.offer()
        steps = [(act_text, act), *([more] if more is not None else [])]
        return self._add(Bar(text, Tone.DONE, steps))

    def warn(self, text: str, act_text: str = "", act: Act | None = None) -> Bar:
        """Say something a person should know."""
        return self._add(Bar(text, Tone.DUE, [(act_text, act)]))

    def follows(self, text: str, act_text: str = "", act: Act | None = None) -> Bar:
        """Say what follows from what was just done; it goes when that is undone."""
        self.forget_deed()
        bar = self.warn(text, act_text, act)
        bar.is_of_deed = True
        return bar

    def refuse(self, refusal: Refusal, act_text: str = "", act: Act | None = None) -> Bar:
        """Say what is not allowed now, and what would allow it; perhaps with a way there."""
        self._drop(Tone.LATE)
        what, mend = refusal_sentence(refusal)
        return self._add(Bar(f"{what} {mend}".strip(), Tone.LATE, [(act_text, act)]))

    def refuse_input(self, refused: InputRefused) -> Bar:
        """Say what is wrong with input, the first few problems in words."""
        self._drop(Tone.LATE)
        told = [" ".join(sentence(p)).strip() for p in refused.problems[:MOST_PROBLEMS_TOLD]]
        more = len(refused.problems) - len(told)
        if more > 0:
            told.append(_("And {n} more.").format(n=more))
        return self._add(Bar("\n".join(told), Tone.LATE))

    def ask(
        self, text: str, yes_text: str, yes: Act, *, until: SignalInstance | None = None
    ) -> Bar:
        """Ask before something that can't be undone; putting the bar away means no.

        ``until`` tells that there is nothing to ask any more: the bar goes by itself.
        """
        bar = self.choose(text, [(yes_text, yes)])
        if until is not None:
            until.connect(bar.go)
        return bar

    def choose(self, text: str, choices: Sequence[tuple[str, Act]]) -> Bar:
        """Ask which of some; putting the bar away means none of them."""
        self._drop(Tone.ASKED)
        return self._add(Bar(text, Tone.ASKED, choices))

    def fail(self, error: BaseException) -> None:
        """Show an error in the form that fits it."""
        if isinstance(error, Refusal):
            self.refuse(error)
        elif isinstance(error, InputRefused):
            self.refuse_input(error)
        else:
            self.bug(error)

    def bug(self, error: BaseException) -> None:
        """Show that something went wrong on our side; the program goes on."""
        LOG.error("unexpected error", exc_info=error)
        if self.bug_dialog is not None and self.bug_dialog.isVisible():
            self.bug_dialog.add(error)
            return
        self.bug_dialog = BugDialog(error, self.window())
        self.bug_dialog.open()

    @contextmanager
    def refusals(self) -> Iterator[None]:
        """Show a Refusal or refused input raised inside; anything else goes on its way."""
        try:
            yield
        except (Refusal, InputRefused) as error:
            self.fail(error)

    # --- putting away -------------------------------------------------------

    def bars(self) -> tuple[Bar, ...]:
        """Bars shown now, newest first."""
        return tuple(self._bars)

    def clear(self) -> None:
        """Put every bar away."""
        for bar in self.bars():
            self._remove(bar)

    def forget_deed(self) -> None:
        """Put away what was told of the last deed and of what follows from it."""
        for bar in self.bars():
            if bar.is_of_deed or bar.tone is Tone.DONE:
                self._remove(bar)

    def _drop(self, tone: Tone) -> None:
        for bar in self.bars():
            if bar.tone is tone:
                self._remove(bar)

    def _add(self, bar: Bar) -> Bar:
        bar.closed.connect(self._remove)
        self._bars.insert(0, bar)
        self._lines.insertWidget(0, bar)
        for old in self._bars[MOST_BARS:]:
            self._remove(old)
        self.show()
        QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(bar, bar.label.text()))
        return bar

    def _remove(self, bar: Bar) -> None:
        if bar in self._bars:
            self._bars.remove(bar)
            self._lines.removeWidget(bar)
            bar.hide()
            bar.deleteLater()
        self.setVisible(bool(self._bars))


def _nothing_more() -> Step | None:
    """Stand in until a window offers to undo."""
    return None


class BugDialog(Box):
    """Calm words about an error of ours, and the details to copy."""

    def __init__(self, error: BaseException, parent: QWidget | None = None) -> None:
        """Describe this error."""
        super().__init__(_("Something went wrong in the program"), parent, wished=BUG_SIZE)
        text = QLabel(
            _(
                "This is our mistake, not yours. Everything recorded before is saved in the "
                "hotel's file. You can go on working; if the same happens again, copy the "
                "details below and send them to whoever looks after the program."
            ),
            wordWrap=True,
        )
        self.details = QPlainTextEdit(details_of(error), readOnly=True)
        self.details.setAccessibleName(_("Details of the error"))
        self.details.setTabChangesFocus(True)
        buttons = QDialogButtonBox()
        self.copy_button = buttons.addButton(
            _("Copy the details"), QDialogButtonBox.ButtonRole.ActionRole
        )
        self.copy_button.clicked.connect(self._copy)
        go_on = buttons.addButton(_("Go on"), QDialogButtonBox.ButtonRole.AcceptRole)
        go_on.setProperty("role", MAIN)
        self.enter = go_on
        buttons.accepted.connect(self.accept)
        for widget in (text, self.details, buttons):
            self.lines.addWidget(widget)

    def add(self, error: BaseException) -> None:
        """Describe one more error below the first."""
        self.details.appendPlainText("\n" + details_of(error))

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.details.toPlainText())


def details_of(error: BaseException) -> str:
    """What happened, for whoever mends the program: version, system, the trace."""
    trace = "".join(traceback.format_exception(error))
    return (
        f"hotelwatch {hotelwatch.__version__}, Python {platform.python_version()}, "
        f"{platform.system()} {platform.release()}\n\n{trace}"
    )
