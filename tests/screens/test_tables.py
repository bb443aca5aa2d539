from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QRect, Qt
from PySide6.QtGui import QGuiApplication, QKeySequence, QShortcut
from PySide6.QtTest import QTest

from hotelwatch.screens.look.theme import DARK, LIGHT, TextSize, Theme, Tone
from hotelwatch.screens.tables.column_widths import between
from hotelwatch.screens.tables.model import RowModel, folded, natural
from hotelwatch.screens.tables.row_table import Column, Empty, RowTable

Role = Qt.ItemDataRole


@dataclass(frozen=True, slots=True)
class Row:
    room: str
    wing: str
    due_on: date | None
    beds: int = 1


ROWS = (
    Row("102", "Étoile", date(2026, 1, 9)),
    Row("9", "Garden", date(2026, 1, 5), beds=2),
    Row("1010", "Garden", None),
)


def columns():
    return [
        Column("Room", lambda row: row.room, spoken=lambda row: f"Room {row.room}"),
        Column("Wing", lambda row: row.wing),
        Column(
            "Due",
            lambda row: row.due_on.isoformat() if row.due_on else "",
            sort=lambda row: row.due_on,
            tint=lambda row: Tone.LATE if row.due_on == date(2026, 1, 5) else None,
        ),
        Column("Beds", lambda row: str(row.beds), right=True),
    ]


@pytest.fixture
def table(qtbot):
    made = RowTable(columns(), key=lambda row: row.room, name="Rooms", empty=Empty("No room yet."))
    qtbot.addWidget(made)
    made.resize(700, 400)
    made.show()
    made.show_rows(ROWS)
    return made


def rooms(table):
    return [row.room for row in table.shown_rows()]


def test_the_model_keeps_to_qts_rules(qtmodeltester, qtbot):
    model = RowModel(columns(), key=lambda row: row.room)
    model.show(ROWS)
    qtmodeltester.check(model)
    model.show([replace(ROWS[0], beds=7), *ROWS[1:]])
    model.show(ROWS[:1])
    qtmodeltester.check(model)


def test_the_order_keeps_to_qts_rules(qtmodeltester, table):
    table.order.narrow("garden")
    table.order.sort(2)
    qtmodeltester.check(table.order)


def test_rows_stand_as_given_until_a_column_sorts_them(table):
    assert rooms(table) == ["102", "9", "1010"]
    table.view.sortByColumn(0, Qt.SortOrder.AscendingOrder)
    assert rooms(table) == ["9", "102", "1010"]
    table.view.sortByColumn(2, Qt.SortOrder.AscendingOrder)
    assert rooms(table) == ["9", "102", "1010"]  # no day goes last
    table.view.sortByColumn(2, Qt.SortOrder.DescendingOrder)
    assert rooms(table) == ["1010", "102", "9"]


def test_a_changed_row_moves_to_its_place_in_the_order(table):
    table.view.sortByColumn(2, Qt.SortOrder.AscendingOrder)
    table.show_rows([ROWS[0], replace(ROWS[1], due_on=date(2026, 2, 1)), ROWS[2]])
    assert rooms(table) == ["102", "9", "1010"]


def test_typing_narrows_by_every_word_in_any_column_whatever_case_or_accent(table, qtbot):
    with qtbot.waitSignal(table.order.layoutChanged, raising=False, timeout=10):
        qtbot.keyClicks(table.filter, "ETOILE 102")
    qtbot.waitUntil(lambda: rooms(table) == ["102"])
    assert table.count.text() == "1 of 3"
    table.show_all()
    assert len(rooms(table)) == 3


def test_a_filter_that_fits_no_row_says_so_and_offers_all(table, qtbot):
    qtbot.keyClicks(table.filter, "tower")
    qtbot.waitUntil(lambda: rooms(table) == [])
    assert "tower" in table.empty_text.text()
    assert table.empty_step.isVisible()
    qtbot.mouseClick(table.empty_step, Qt.MouseButton.LeftButton)
    assert len(rooms(table)) == 3


def test_enter_in_the_filter_goes_to_the_first_row(table, qtbot):
    qtbot.keyClicks(table.filter, "garden")
    qtbot.keyClick(table.filter, Qt.Key.Key_Return)
    assert table.current().room == "9"


def test_an_empty_table_says_one_next_step(qtbot):
    taken = []
    table = RowTable(
        columns(),
        key=lambda row: row.room,
        name="Rooms",
        empty=Empty("No room yet.", "Load the roster", lambda: taken.append(1)),
    )
    qtbot.addWidget(table)
    table.show()
    assert table.empty_text.isVisible()
    assert not table.filter.isVisible()
    qtbot.mouseClick(table.empty_step, Qt.MouseButton.LeftButton)
    assert taken == [1]


def test_same_keys_paint_only_rows_that_differ(table, qtbot):
    told = []
    table.model.dataChanged.connect(lambda first, last: told.append((first.row(), last.row())))
    with qtbot.assertNotEmitted(table.model.modelReset):
        table.show_rows([ROWS[0], replace(ROWS[1], beds=5), ROWS[2]])
    assert told == [(1, 1)]
    assert table.model.data(table.model.index(1, 3)) == "5"


def test_the_filter_reads_a_changed_row_anew(table, qtbot):
    table.order.narrow("annex")
    assert rooms(table) == []
    table.show_rows([replace(ROWS[0], wing="Annex"), *ROWS[1:]])
    assert rooms(table) == ["102"]


def test_selection_and_place_stay_by_key_when_rows_come_and_go(table):
    table.select("9")
    assert table.current().room == "9"
    table.show_rows([Row("7", "New", None), *reversed(ROWS)])
    assert table.current().room == "9"
    assert [row.room for row in table.selected_rows()] == ["9"]
    table.show_rows([row for row in ROWS if row.room != "9"])
    assert table.selected_rows() == ()


def test_the_place_that_is_gone_is_told(table, qtbot):
    table.select("9")
    with qtbot.waitSignal(table.current_changed) as told:
        table.show_rows(ROWS[:1])
    assert told.args == [None]


def test_arrows_move_and_enter_opens(table, qtbot):
    table.select("102")
    table.view.setFocus()
    qtbot.keyClick(table.view, Qt.Key.Key_Down)
    assert table.current().room == "9"
    with qtbot.waitSignal(table.activated) as opened:
        qtbot.keyClick(table.view, Qt.Key.Key_Return)
    assert opened.args == [ROWS[1]]


def test_tab_leaves_the_table(table):
    assert not table.view.tabKeyNavigation()


def test_rows_are_copied_with_their_titles(table, qtbot):
    table.view.setFocus()
    table.view.selectAll()
    qtbot.keyClick(table.view, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    lines = QGuiApplication.clipboard().text().split("\n")
    assert lines[0] == "Room\tWing\tDue\tBeds"
    assert lines[2] == "9\tGarden\t2026-01-05\t2"
    assert len(lines) == 4


def test_a_line_break_within_a_cell_stays_in_its_cell(table):
    assert table.as_text([replace(ROWS[0], wing="a\tb\nc")]).split("\n")[1:] == [
        "102\ta b c\t2026-01-09\t1"
    ]


def test_what_is_spoken_names_the_column(table):
    model = table.model
    assert model.data(model.index(1, 0), Role.AccessibleTextRole) == "Room 9"
    assert model.data(model.index(1, 1), Role.AccessibleTextRole) == "Wing: Garden"


def test_tints_follow_the_look(table, look):
    index = table.model.index(1, 2)
    ground = table.model.data(index, Role.BackgroundRole)
    assert ground.name() == LIGHT.tones[Tone.LATE].fill
    assert table.model.data(table.model.index(0, 2), Role.BackgroundRole) is None
    look.choose(Theme.DARK, TextSize.NORMAL)
    assert table.model.data(index, Role.BackgroundRole).name() == DARK.tones[Tone.LATE].fill


def test_text_is_folded_and_numbers_sort_by_size():
    assert folded("ÉTOILE") == "etoile"
    assert sorted(["B10", "b2", "B1", "10", "9", ""], key=natural) == [
        "", "9", "10", "B1", "b2", "B10"
    ]  # fmt: skip


def test_columns_stand_beside_one_another_where_a_hint_tells_what_is_cut(qtbot):
    long = "A sentence that is far too long to stand in a narrow column whole"
    made = RowTable(
        [
            Column("Room", lambda row: row.room),
            Column("Why", lambda row: long, hint=lambda row: long),
            Column("Wing", lambda row: row.wing),
        ],
        key=lambda row: row.room,
        name="Rooms",
        empty=Empty("No room yet."),
    )
    qtbot.addWidget(made)
    made.show_rows(ROWS)
    made.resize(420, 300)
    made.show()
    scroll = made.view.horizontalScrollBar()
    qtbot.waitUntil(lambda: made.view.viewport().width() > 0 and scroll.maximum() == 0)
    metrics = made.view.fontMetrics()
    assert made.view.columnWidth(0) >= metrics.horizontalAdvance("1010")
    assert made.view.columnWidth(2) >= metrics.horizontalAdvance("Garden")
    made.resize(900, 300)
    qtbot.waitUntil(lambda: made.view.columnWidth(1) > metrics.horizontalAdvance(long))


@given(
    st.lists(st.tuples(st.integers(0, 300), st.integers(0, 300)), min_size=1, max_size=9),
    st.integers(0, 3000),
)
def test_widths_lie_between_least_and_most_and_fill_no_more_than_the_room(pairs, room):
    least = [low for low, _ in pairs]
    most = [low + more for low, more in pairs]
    widths = between(least, most, room)
    assert all(a <= b <= c for a, b, c in zip(least, widths, most, strict=True))
    assert sum(widths) <= max(room, sum(least))


def test_a_row_given_the_place_is_the_only_one_selected_whatever_key_is_held(table, qtbot):
    with qtbot.waitActive(table):
        table.activateWindow()
    table.select("102")
    saving = QShortcut(QKeySequence("Ctrl+Return"), table)
    saving.activated.connect(lambda: table.select("1010"))
    window, held = table.windowHandle(), Qt.KeyboardModifier.ControlModifier
    QTest.keyPress(window, Qt.Key.Key_Return, held)
    QTest.keyRelease(window, Qt.Key.Key_Return)
    assert [row.room for row in table.selected_rows()] == ["1010"]


def test_a_text_that_just_does_not_fit_beside_its_padding_gets_another_line(qtbot):
    said = "looked at, but places of the underside were left out for want of a second person"
    made = RowTable(
        [Column("Why", lambda _row: said, wraps=True), Column("Beds", lambda row: str(row.beds))],
        key=lambda row: row.room,
        name="Reasons",
        empty=Empty("None."),
    )
    qtbot.addWidget(made)
    made.show_rows(ROWS[:1])
    made.show()
    view = made.view
    wrapped = Qt.TextFlag.TextWordWrap
    for width in range(240, 420, 4):
        made.resize(width, 300)
        room = view.viewport().width
        qtbot.waitUntil(lambda r=room: view.columnWidth(0) + view.columnWidth(1) == r())
        beside_padding = QRect(0, 0, view.columnWidth(0) - 16, 999)
        needed = view.fontMetrics().boundingRect(beside_padding, wrapped, said).height()
        assert view.rowHeight(0) >= needed


def test_long_texts_break_their_lines_before_a_time_does(qtbot):
    said = "shares a wall with 303, and lies across the corridor from 304"
    made = RowTable(
        [
            Column("Team", lambda _row: "too late: Thu 12 Mar, blue", wraps=True),
            Column("Can go in", lambda _row: "11:00 to 15:00", wraps=True),
            Column("Why", lambda _row: said, wraps=True),
        ],
        key=lambda row: row.room,
        name="Reasons",
        empty=Empty("None."),
    )
    qtbot.addWidget(made)
    made.show_rows(ROWS[:1])
    made.show()
    view = made.view
    for width in (460, 520, 600):
        made.resize(width, 300)
        qtbot.waitUntil(lambda: sum(map(view.columnWidth, range(3))) == view.viewport().width())
        assert view.columnWidth(1) >= view.sizeHintForColumn(1)
        assert view.columnWidth(2) < view.sizeHintForColumn(2)


# --- habits of the hand -------------------------------------------------------


CONTROL = Qt.KeyboardModifier.ControlModifier


def stand_on(table, row, column=0):
    table.view.setFocus()
    table.view.setCurrentIndex(table.order.index(row, column))


def test_letters_typed_in_the_table_narrow_it_and_escape_leads_back(table, qtbot):
    stand_on(table, 0)
    qtbot.keyClicks(table.view, "g")
    assert table.filter.hasFocus()
    qtbot.keyClicks(table.filter, "arden")
    qtbot.waitUntil(lambda: rooms(table) == ["9", "1010"], timeout=1000)
    qtbot.keyClick(table.filter, Qt.Key.Key_Escape)
    assert rooms(table) == ["102", "9", "1010"]
    assert table.view.hasFocus()


def test_a_table_without_a_filter_line_shows_one_while_one_types(qtbot):
    made = RowTable(
        columns(), key=lambda row: row.room, name="Rooms", empty=Empty("None."), filtered=False
    )
    qtbot.addWidget(made)
    made.show()
    made.show_rows(ROWS)
    assert not made.filter.isVisible()
    stand_on(made, 0)
    qtbot.keyClicks(made.view, "t")
    assert made.filter.isVisible()
    qtbot.waitUntil(lambda: rooms(made) == ["102"], timeout=1000)
    qtbot.keyClick(made.filter, Qt.Key.Key_Escape)
    assert not made.filter.isVisible()
    assert len(rooms(made)) == 3


def test_space_and_keys_with_control_are_no_filter(table, qtbot):
    stand_on(table, 0)
    qtbot.keyClick(table.view, Qt.Key.Key_Space)
    qtbot.keyClick(table.view, Qt.Key.Key_A, CONTROL)
    assert table.filter.text() == ""
    assert len(table.selected_rows()) == 3


def test_keys_sort_by_the_column_that_one_stands_in(table, qtbot):
    stand_on(table, 0, column=2)
    qtbot.keyClick(table.view, Qt.Key.Key_Down, CONTROL)
    assert rooms(table) == ["9", "102", "1010"]
    qtbot.keyClick(table.view, Qt.Key.Key_Up, CONTROL)
    assert rooms(table)[-1] == "9"
    qtbot.keyClick(table.view, Qt.Key.Key_Up, CONTROL)
    assert rooms(table) == ["102", "9", "1010"]


def test_rows_are_copied_as_text_and_as_a_table(table, qtbot):
    table.show_rows((*ROWS, Row("0104", "A & <B>\nold", None)))
    stand_on(table, 0)
    qtbot.keyClick(table.view, Qt.Key.Key_A, CONTROL)
    qtbot.keyClick(table.view, Qt.Key.Key_C, CONTROL)
    copied = QGuiApplication.clipboard().mimeData()
    lines = copied.text().split("\n")
    assert lines[0] == "Room\tWing\tDue\tBeds"
    assert lines[4] == "0104\tA & <B> old\t\t1"
    tree = ElementTree.fromstring(copied.html().partition("</style>")[2])
    cells = [[cell.text or "" for cell in row] for row in tree]
    assert cells == [line.split("\t") for line in lines]
    assert {cell.tag for cell in tree[0]} == {"th"}
