from __future__ import annotations

import gc
import sys
import threading
import time

import pytest
from PySide6.QtCore import QObject, QThread
from shiboken6 import isValid

from hotelwatch.core.problems import Refusal
from hotelwatch.core.progress import Stopped
from hotelwatch.screens.at_hand.jobs import SHOWN_AFTER_MS, JobBar, Jobs

ANSWER_S = 0.5
"""Within which a Stop has to answer (design: jobs)."""


@pytest.fixture
def jobs(qtbot):
    made = Jobs()
    yield made
    made.close()


class Heard(QObject):
    """Takes note of how jobs end, and on which thread it is told."""

    def __init__(self):
        super().__init__()
        self.values, self.errors, self.stops, self.threads = [], [], 0, set()

    def done(self, value):
        self.values.append(value)
        self.threads.add(QThread.currentThread())

    def failed(self, error):
        self.errors.append(error)

    def stopped(self):
        self.stops += 1


def double(number):
    return number * 2


def count_up(steps, progress):
    for step in range(steps):
        progress(step / steps, "counting")
        time.sleep(0.005)
    return steps


def refuse():
    raise Refusal("file_exists", path="x")


def test_a_value_comes_back_in_the_windows_thread(jobs, qtbot):
    heard = Heard()
    jobs.run(double, 21, label="Doubling", on_done=heard.done)
    qtbot.waitUntil(lambda: heard.values == [42])
    assert heard.threads == {heard.thread()}
    assert not jobs.is_busy


def test_the_work_is_done_off_the_windows_thread(jobs, qtbot):
    heard = Heard()
    jobs.run(threading.get_ident, label="", on_done=heard.done)
    qtbot.waitUntil(lambda: bool(heard.values))
    assert heard.values != [threading.get_ident()]


def test_progress_reaches_the_bar(jobs, qtbot):
    bar, heard, shares = JobBar(jobs), Heard(), []
    qtbot.addWidget(bar)
    jobs.told.connect(lambda share, step: shares.append((share, step)))
    jobs.run(count_up, 400, label="Counting rooms", on_done=heard.done)
    qtbot.waitUntil(bar.isVisible)
    qtbot.waitUntil(lambda: heard.values == [400])
    assert shares
    assert [share for share, _ in shares] == sorted(share for share, _ in shares)
    assert {step for _, step in shares} == {"counting"}
    assert "Counting rooms" in bar.label.text()
    assert not bar.isVisible()


def test_work_that_is_soon_done_shows_no_bar(jobs, qtbot):
    bar, heard = JobBar(jobs), Heard()
    qtbot.addWidget(bar)
    jobs.run(double, 1, label="Doubling", on_done=heard.done)
    assert not bar.isVisible()
    qtbot.waitUntil(lambda: heard.values == [2])
    qtbot.wait(SHOWN_AFTER_MS + 50)
    assert not bar.isVisible()


def test_stop_ends_a_job_that_asks(jobs, qtbot):
    heard = Heard()
    jobs.run(count_up, 10_000, label="", on_done=heard.done, on_stopped=heard.stopped)
    with qtbot.waitSignal(jobs.told):
        pass
    begun = time.monotonic()
    jobs.stop()
    qtbot.waitUntil(lambda: heard.stops == 1)
    assert time.monotonic() - begun < ANSWER_S
    assert heard.values == []


def test_stop_answers_though_the_job_does_not_ask(jobs, qtbot):
    heard, release = Heard(), threading.Event()
    jobs.run(release.wait, 20, label="", on_done=heard.done, on_stopped=heard.stopped)
    begun = time.monotonic()
    jobs.stop()
    qtbot.waitUntil(lambda: heard.stops == 1)
    assert time.monotonic() - begun < ANSWER_S
    jobs.run(double, 4, label="", on_done=heard.done)  # waits until the thread is free
    release.set()
    qtbot.waitUntil(lambda: heard.values == [8])  # the first answer was thrown away


def test_jobs_take_turns(jobs, qtbot):
    heard = Heard()
    for number in range(5):
        jobs.run(double, number, label="", on_done=heard.done)
    qtbot.waitUntil(lambda: len(heard.values) == 5)
    assert heard.values == [0, 2, 4, 6, 8]


def test_errors_go_to_whoever_asked(jobs, qtbot):
    heard = Heard()
    jobs.run(refuse, label="", on_done=heard.done, on_failed=heard.failed)
    qtbot.waitUntil(lambda: bool(heard.errors))
    assert heard.errors[0].code == "file_exists"


def test_errors_nobody_asked_for_are_told_to_the_window(jobs, qtbot):
    heard = Heard()
    with qtbot.waitSignal(jobs.failed) as told:
        jobs.run(refuse, label="", on_done=heard.done)
    assert isinstance(told.args[0], Refusal)
    jobs.run(double, 1, label="", on_done=heard.done)  # and work goes on
    qtbot.waitUntil(lambda: heard.values == [2])


def test_what_a_stopped_job_returned_counts_only_where_it_keeps_its_best(jobs, qtbot):
    def best_so_far(progress):
        try:
            while True:
                progress(0.5, "")
        except Stopped:
            return "best"

    for keeps, values, stops in ((False, [], 1), (True, ["best"], 0)):
        heard = Heard()
        jobs.run(best_so_far, label="", on_done=heard.done, on_stopped=heard.stopped, keeps=keeps)
        jobs.stop()
        qtbot.waitUntil(lambda: not jobs.is_busy)
        assert (heard.values, heard.stops) == (values, stops)


def test_a_listener_that_is_gone_is_not_called(jobs, qtbot):
    heard, release = Heard(), threading.Event()
    jobs.run(release.wait, 20, label="", on_done=heard.done)
    heard.deleteLater()
    qtbot.waitUntil(lambda: not isValid(heard))
    release.set()
    qtbot.waitUntil(lambda: not jobs.is_busy)
    assert heard.values == []


def test_no_garbage_is_collected_on_the_worker_s_thread(qtbot, jobs):
    # A widget destroyed off the window's thread crashes Qt (seen as a segmentation fault).
    during = []
    jobs.run(lambda: during.append(gc.isenabled()), label="x", on_done=lambda _: None)
    qtbot.waitUntil(lambda: not jobs.is_busy)
    assert during == [False]
    assert gc.isenabled()


def test_whoever_hears_of_a_job_is_let_go_of_on_the_windows_thread(jobs, qtbot):
    """A page destroyed on the worker's thread takes the program with it.

    Both threads let go of a job as it ends: with threads that take turns this often, one in
    four hundred was let go of by the worker while the job itself went across.
    """
    gone = []

    class Page:
        def take(self, value):
            pass

        def __del__(self):
            gone.append(threading.current_thread() is threading.main_thread())

    turns = 3000
    interval = sys.getswitchinterval()
    sys.setswitchinterval(1e-5)
    try:
        for _turn in range(turns):
            with qtbot.waitSignal(jobs.idle):
                jobs.run(int, label="Working", on_done=Page().take)
    finally:
        sys.setswitchinterval(interval)
    jobs.close()
    assert gone == [True] * turns


# --- work that gives way ------------------------------------------------------------------------


def test_work_that_gives_way_makes_room_for_other_work_and_begins_anew(jobs, qtbot):
    heard = Heard()
    jobs.run(
        count_up,
        40,
        label="Counting",
        on_done=heard.done,
        on_stopped=heard.stopped,
        gives_way=True,
    )
    qtbot.wait(30)
    jobs.run(double, 4, label="Doubling", on_done=heard.done)
    qtbot.waitUntil(lambda: not jobs.is_busy, timeout=10_000)
    assert heard.values == [8, 40]
    assert heard.stops == 0


def test_work_that_gives_way_waits_behind_what_came_later(jobs, qtbot):
    heard = Heard()
    jobs.run(count_up, 10, label="Counting", on_done=heard.done)
    jobs.run(double, 1, label="Later", on_done=heard.done, gives_way=True)
    jobs.run(double, 2, label="Sooner", on_done=heard.done)
    qtbot.waitUntil(lambda: not jobs.is_busy, timeout=10_000)
    assert heard.values == [10, 4, 2]


def test_work_that_gives_way_and_is_stopped_does_not_begin_anew(jobs, qtbot):
    heard = Heard()
    jobs.run(
        count_up,
        400,
        label="Counting",
        on_done=heard.done,
        on_stopped=heard.stopped,
        gives_way=True,
    )
    qtbot.wait(30)
    jobs.stop()
    qtbot.waitUntil(lambda: heard.stops == 1, timeout=5_000)
    qtbot.waitUntil(lambda: not jobs.is_busy, timeout=5_000)
    assert heard.values == []


def test_work_that_was_done_before_it_could_give_way_counts(jobs, qtbot):
    heard = Heard()
    jobs.run(time.sleep, 0.1, label="Sleeping", on_done=heard.done, gives_way=True)
    qtbot.wait(20)
    jobs.run(double, 4, label="Doubling", on_done=heard.done)
    qtbot.waitUntil(lambda: not jobs.is_busy, timeout=10_000)
    assert heard.values == [None, 8]
