"""Long work, one piece at a time, on one worker thread, with a Stop that answers at once.

::

    context.jobs.run(
        plan_rounds, hotel.house, hotel.occupancy(), wish,
        label=_("Planning the rounds"), on_done=self.show_draft,
    )

The function is pure, or reads a file through a connection of its own; it gets frozen
values and returns one. Only the window's thread writes: record what came back in
``on_done``. A function that has a parameter ``progress`` is given one (core.progress);
others can be stopped only in that their answer is thrown away. ``on_done(value)``,
``on_failed(error)`` and ``on_stopped()`` run in the window's thread and should be bound
methods; they are not called once their widget is gone. Without ``on_failed`` a Refusal
goes to the notices and anything else to the dialog for our own bugs.
"""

from __future__ import annotations

import gc
import inspect
import time
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Event
from typing import Any

import shiboken6
from PySide6.QtCore import QObject, Qt, QThread, QTimer, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QWidget

from hotelwatch.core.progress import Stopped
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label as name_of

STOP_ANSWERS_MS = 400
SHOWN_AFTER_MS = 200
"""Work that is done sooner shows no bar: it would only flash."""
TOLD_EVERY_S = 0.05
WHOLE = 1000


@dataclass(eq=False, slots=True)
class Work:
    """What the worker is given: what is called with what.

    Nothing in it leads to a widget: the worker's thread may be the last to let go of it,
    and a page that is let go of there is destroyed there, which Qt does not survive.
    """

    function: Callable[..., Any]
    values: tuple[Any, ...]
    stop: Event = field(default_factory=Event)


@dataclass(eq=False, slots=True)
class Job:
    """One piece of work and who hears how it ended; it never leaves the window's thread."""

    work: Work
    label: str
    on_done: Callable[[Any], object]
    on_failed: Callable[[Exception], object] | None
    on_stopped: Callable[[], object] | None
    keeps: bool = False
    unasked: bool = False
    gives_way: bool = False
    comes_again: bool = False
    """It was stopped only to give way."""
    by: str = ""
    """Who sat at the desk when it was asked for; empty where nobody needs a PIN."""


class _Worker(QObject):
    """Lives on the worker thread and does what it is told, one job after another."""

    told = Signal(object, float, str)
    ended = Signal(object, object, object)
    """The work, its value, and the error that ended it or None."""

    def __init__(self) -> None:
        super().__init__()
        self._told_at = 0.0

    @Slot(object)
    def work(self, work: Work) -> None:
        def progress(share: float, step: str) -> None:
            if work.stop.is_set():
                raise Stopped
            now = time.monotonic()
            if now - self._told_at >= TOLD_EVERY_S or share >= 1:
                self._told_at = now
                self.told.emit(work, share, step)

        named = {"progress": progress} if _takes_progress(work.function) else {}
        value: Any = None
        error: Exception | None = None
        try:
            value = work.function(*work.values, **named)
        except Exception as raised:  # noqa: BLE001 told to the window, which shows it
            error = raised
        self.ended.emit(work, value, error)


class Jobs(QObject):
    """Runs one job at a time; more wait their turn."""

    began = Signal(str)
    """What is being done."""
    told = Signal(float, str)
    """Share done (0 to 1) and the step's code."""
    idle = Signal()
    """Nothing is being done any more."""
    failed = Signal(object)
    """An error that nobody asked to hear about."""
    _wanted = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        """Start the worker thread; ``close`` ends it."""
        super().__init__(parent)
        self._waiting: deque[Job] = deque()
        self._job: Job | None = None
        self._left_running: Job | None = None
        self._seated = ""
        self._is_locked = False
        self._untold: list[tuple[Job, Any, Exception | None]] = []
        self._answer = QTimer(self, singleShot=True, interval=STOP_ANSWERS_MS)
        self._answer.timeout.connect(self._leave_running)
        self._thread = QThread()
        self._worker = _Worker()
        self._worker.moveToThread(self._thread)
        self._wanted.connect(self._worker.work, Qt.ConnectionType.QueuedConnection)
        self._worker.told.connect(self._tell)
        self._worker.ended.connect(self._end)
        self._thread.start()

    @property
    def does_asked_work(self) -> bool:
        """Whether something is being done that a person asked for, and would miss."""
        jobs = [*self._waiting, *([self._job] if self._job is not None else [])]
        return any(not job.unasked for job in jobs)

    @property
    def is_busy(self) -> bool:
        """Whether something is being done that somebody waits for."""
        return self._job is not None or bool(self._waiting)

    def seat(self, person: str, *, is_locked: bool = False) -> None:
        """Say who sits at the desk, which may be nobody: how a job ended is told to who asked.

        What ended meanwhile is told once that person sits there again.
        """
        self._seated, self._is_locked = person, is_locked
        told = [one for one in self._untold if not self._is_for_another(one[0])]
        self._untold = [one for one in self._untold if self._is_for_another(one[0])]
        if self._job is not None:
            self.began.emit(self._label_of(self._job))
        for job, value, error in told:
            self._tell_end(job, value, error)

    def run(
        self,
        function: Callable[..., Any],
        *values: Any,  # noqa: ANN401 whatever the function takes
        label: str,
        on_done: Callable[[Any], object],
        on_failed: Callable[[Exception], object] | None = None,
        on_stopped: Callable[[], object] | None = None,
        keeps: bool = False,
        unasked: bool = False,
        gives_way: bool = False,
        for_all: bool = False,
    ) -> None:
        """Do it off the window's thread; the module's top says how.

        ``keeps`` takes what a stopped function returned nevertheless: its best so far.
        ``unasked`` work is the window's own reading: closing does not ask about it.
        Work that ``gives_way`` is stopped by whatever else comes, and begins anew after it.
        How work ``for_all`` ended is told whoever sits there then.
        """
        work, by = Work(function, values), "" if for_all else self._seated
        self._waiting.append(
            Job(work, label, on_done, on_failed, on_stopped, keeps, unasked, gives_way, by=by)
        )
        if not gives_way:
            self._let_pass()
        self._next()

    def _let_pass(self) -> None:
        """Stop what gives way, and put it behind what waits."""
        self._waiting = deque(sorted(self._waiting, key=lambda job: job.gives_way))
        job = self._job
        if job is not None and job.gives_way and not job.work.stop.is_set():
            job.comes_again = True
            job.work.stop.set()

    def stop(self) -> None:
        """Stop what is being done; whoever waits hears of it within half a second."""
        if self._job is not None:
            self._job.comes_again = False
            self._job.work.stop.set()
            self._answer.start()

    def stop_all(self) -> None:
        """Stop what is being done and forget what waits."""
        self._waiting.clear()
        self._untold.clear()
        self.stop()

    def close(self) -> None:
        """Stop everything and end the thread. Waits for a job that can't be stopped."""
        self._waiting.clear()
        self._untold.clear()
        for job in (self._job, self._left_running):
            if job is not None:
                job.work.stop.set()
        self._job = self._left_running = job = None
        self._answer.stop()
        self._thread.quit()
        self._thread.wait()
        gc.enable()

    def _next(self) -> None:
        if self._job is not None or self._left_running is not None or not self._waiting:
            return
        self._job = self._waiting.popleft()
        self.began.emit(self._label_of(self._job))
        # A closed page found as garbage on the worker's thread would be destroyed
        # there, and Qt would crash: nothing is collected until the job has ended.
        gc.disable()
        self._wanted.emit(self._job.work)

    def _tell(self, work: Work, share: float, step: str) -> None:
        if self._job is not None and work is self._job.work:
            self.told.emit(share, step)

    def _leave_running(self) -> None:
        # It does not ask whether to stop: nobody waits for it, but the thread is taken.
        self._left_running, job = self._job, self._job
        self._job = None
        if job is not None:
            self._finish(job, None, Stopped())

    def _end(self, work: Work, value: Any, error: Exception | None) -> None:  # noqa: ANN401
        job = self._job
        if self._left_running is not None and work is self._left_running.work:
            gc.enable()
            self._left_running = None
            self._next()
            return
        if job is None or work is not job.work:
            return
        gc.enable()
        self._answer.stop()
        self._job = None
        if job.comes_again and isinstance(error, Stopped):
            job.work, job.comes_again = Work(work.function, work.values), False
            self._waiting.append(job)
            self._next()
            return
        is_kept = (job.keeps or job.comes_again) and error is None
        is_thrown_away = work.stop.is_set() and not is_kept
        stopped = Stopped() if is_thrown_away else error
        self._finish(job, value, stopped)

    def _finish(self, job: Job, value: Any, error: Exception | None) -> None:  # noqa: ANN401
        if not self._waiting:
            self.idle.emit()
        if self._is_for_another(job):
            self._untold.append((job, value, error))
        else:
            self._tell_end(job, value, error)
        self._next()

    def _is_for_another(self, job: Job) -> bool:
        """Whether who asked for it does not sit there now; what nobody asked for tells nothing."""
        if job.unasked or not job.by:
            return False
        return self._is_locked or job.by != self._seated

    def _label_of(self, job: Job) -> str:
        """What is being done; not which case somebody else prints."""
        if self._is_for_another(job):
            return _("Work that somebody else began goes on")
        return job.label

    def _tell_end(self, job: Job, value: Any, error: Exception | None) -> None:  # noqa: ANN401
        if isinstance(error, Stopped):
            if job.on_stopped is not None and _is_there(job.on_stopped):
                job.on_stopped()
        elif error is None:
            if _is_there(job.on_done):
                job.on_done(value)
        elif job.on_failed is None:
            self.failed.emit(error)
        elif _is_there(job.on_failed):
            job.on_failed(error)


def _takes_progress(function: Callable[..., Any]) -> bool:
    try:
        return "progress" in inspect.signature(function).parameters
    except ValueError:  # written in C, without a signature
        return False


def _is_there(listener: Callable[..., object]) -> bool:
    owner = getattr(listener, "__self__", None)
    return not isinstance(owner, QObject) or shiboken6.isValid(owner)


class JobBar(QWidget):
    """What is being done, how far it is, and Stop. Hidden while nothing is done for long."""

    def __init__(self, jobs: Jobs) -> None:
        """Watch these jobs."""
        super().__init__()
        self._jobs = jobs
        self._doing = ""
        self.label = QLabel()
        self.bar = QProgressBar(maximum=WHOLE, textVisible=False)
        self.bar.setAccessibleName(_("Share done"))
        self.stop_button = QPushButton(_("Stop"))
        self.stop_button.clicked.connect(self._stop)
        line = QHBoxLayout(self)
        line.setContentsMargins(0, 0, 0, 0)
        line.addWidget(self.label)
        line.addWidget(self.bar, 1)
        line.addWidget(self.stop_button)
        self._coming = QTimer(self, singleShot=True, interval=SHOWN_AFTER_MS)
        self._coming.timeout.connect(self.show)
        jobs.began.connect(self._begin)
        jobs.told.connect(self._tell)
        jobs.idle.connect(self._go)
        self.hide()

    def _begin(self, doing: str) -> None:
        self._doing = doing
        self.label.setText(doing)
        self.bar.setRange(0, 0)
        self.stop_button.setEnabled(True)
        self._coming.start()

    def _go(self) -> None:
        self._coming.stop()
        self.hide()

    def _tell(self, share: float, step: str) -> None:
        self.bar.setRange(0, WHOLE)
        self.bar.setValue(round(share * WHOLE))
        self.label.setText(
            _("{doing}: {step}").format(doing=self._doing, step=name_of(step))
            if step
            else self._doing
        )

    def _stop(self) -> None:
        self.label.setText(_("Stopping…"))
        self.stop_button.setEnabled(False)
        self._jobs.stop()
