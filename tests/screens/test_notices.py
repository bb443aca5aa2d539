from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication

from hotelwatch.core.problems import InputRefused, Problem, Refusal
from hotelwatch.screens.at_hand.notices import Notices
from hotelwatch.screens.look.theme import Tone
from hotelwatch.wording.problems import refusal_sentence

REFUSAL = Refusal("file_exists", path="inn.hotelwatch")


@pytest.fixture
def notices(qtbot):
    made = Notices()
    qtbot.addWidget(made)
    yield made
    if made.bug_dialog is not None:
        made.bug_dialog.close()


def test_a_refusal_says_what_and_how_to_mend_and_can_be_selected(notices):
    bar = notices.refuse(REFUSAL)
    what, mend = refusal_sentence(REFUSAL)
    assert what in bar.label.text()
    assert mend in bar.label.text()
    selectable = Qt.TextInteractionFlag.TextSelectableByKeyboard
    assert bar.label.textInteractionFlags() & selectable
    assert notices.isVisibleTo(notices.parentWidget())


def test_a_new_refusal_takes_the_place_of_the_last(notices):
    notices.done("3 sheets printed.")
    notices.refuse(REFUSAL)
    notices.refuse(Refusal("no_such_file", path="x"))
    assert [bar.tone for bar in notices.bars()] == [Tone.LATE, Tone.DONE]


def test_the_button_acts_once_and_puts_the_bar_away(notices, qtbot):
    acted = []
    bar = notices.done("Month written.", "Open", lambda: acted.append(1))
    qtbot.mouseClick(bar.button, Qt.MouseButton.LeftButton)
    assert acted == [1]
    assert notices.bars() == ()
    assert not notices.isVisible()


def test_putting_a_question_away_means_no(notices, qtbot):
    acted = []
    bar = notices.ask("Throw the draft away?", "Throw away", lambda: acted.append(1))
    qtbot.mouseClick(bar.put_away, Qt.MouseButton.LeftButton)
    assert (acted, notices.bars()) == ([], ())


def test_what_is_done_takes_the_place_of_what_was_done_before(notices):
    notices.done("Early pair is saved.")
    notices.done("The round is published.")
    assert [bar.label.text() for bar in notices.bars()] == ["The round is published."]


def test_old_bars_make_room(notices):
    for number in range(6):
        notices.warn(f"Sheet {number}")
    assert [bar.label.text() for bar in notices.bars()] == ["Sheet 5", "Sheet 4", "Sheet 3"]


def test_refused_input_tells_every_problem_or_how_many_more(notices):
    problems = [Problem("roster.csv", row, "Room", "not_known", {}) for row in range(2, 9)]
    notices.fail(InputRefused(problems))
    lines = notices.bars()[0].label.text().split("\n")
    assert len(lines) == 6
    assert "2" in lines[-1]


def test_a_slot_shows_refusals_and_lets_our_own_errors_pass(notices):
    with notices.refusals():
        raise REFUSAL
    assert len(notices.bars()) == 1
    with pytest.raises(ZeroDivisionError), notices.refusals():
        _ = 1 / 0


def test_our_own_error_opens_a_calm_dialog_with_details_to_copy(notices, qtbot):
    notices.fail(KeyError("0104"))
    dialog = notices.bug_dialog
    assert dialog.isVisible()
    notices.fail(ValueError("second"))
    assert notices.bug_dialog is dialog
    qtbot.mouseClick(dialog.copy_button, Qt.MouseButton.LeftButton)
    copied = QGuiApplication.clipboard().text()
    assert "KeyError: '0104'" in copied
    assert "ValueError: second" in copied
    assert copied.startswith("hotelwatch ")


def test_what_follows_from_a_deed_goes_with_it_and_other_warnings_stay(notices):
    notices.warn("The file is read-only.")
    notices.done("Done again: Check recorded, room 501.")
    notices.follows("Room 303: something was found.")
    assert [bar.label.text() for bar in notices.bars()] == [
        "Room 303: something was found.",
        "The file is read-only.",
    ]
    notices.forget_deed()
    assert [bar.label.text() for bar in notices.bars()] == ["The file is read-only."]
