"""The drawn bed in the window: pressed, gone through by keys, heard, and seen in every look."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QAccessible, QColor, QFont
from PySide6.QtWidgets import QApplication

from hotelwatch.core.case_facts import Sign
from hotelwatch.core.checks.place_looks import PlaceState, find_signs, leave
from hotelwatch.core.facts import CheckKind
from hotelwatch.printing.bed_drawing.painting import fitted, label_size
from hotelwatch.screens.checks import bed_view
from hotelwatch.screens.checks.bed_style import said_of, style_of
from hotelwatch.screens.checks.draft import new_draft
from hotelwatch.screens.checks.look_form import LookForm
from hotelwatch.screens.look.theme import LOOKS, TextSize, Theme, palette_of
from tests.build import house

Key = Qt.Key
LEAST_TARGET_PX = 24
"""WCAG 2.2, success criterion 2.5.8."""
LEAST_CONTRAST, LEAST_TEXT_CONTRAST = 3.0, 4.5
"""WCAG 2.2, success criteria 1.4.11 and 1.4.3."""


@pytest.fixture
def make_form(qtbot, make_hotel, make_context):
    def make(room="101", size=(1000, 720)):
        build = house()
        build.room("101").bed("A").bed("B", "slats", encased=True)
        build.room("102").bed("A", "bunk")
        hotel = make_hotel(build)
        form = LookForm(make_context(hotel))
        qtbot.addWidget(form)
        form.resize(*size)
        form.show()
        with qtbot.waitActive(form):
            form.activateWindow()
        form.show_draft(new_draft(hotel, room, ("Anna", "Boris")))
        form.bed.view.setFocus()
        return form

    return make


def stands(form, place, bed="101/A"):
    looks = (line.look for line in form.places.places.lines if line.look)
    return next(one for one in looks if (one.bed, one.place.code) == (bed, place))


def press(qtbot, form, place):
    view = form.bed.view
    qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=view.point_of(place))
    return QApplication.activePopupWidget()


def choose(menu, text):
    """Choose what reads so in a menu or in a menu of its own."""
    for action in menu.actions():
        inner = action.menu()
        if inner is not None:
            for one in inner.actions():
                if one.text().endswith(text):
                    one.trigger()
                    menu.close()
                    return
        elif action.text().endswith(text):
            action.trigger()
            menu.close()
            return
    raise AssertionError(f"{text} is not offered")


# --- presses ------------------------------------------------------------------------------


def test_a_press_on_a_place_stands_on_it_and_offers_what_can_be_said(make_form, qtbot):
    form = make_form()
    menu = press(qtbot, form, "base_corner_caps")
    assert form.places.current().place.code == "base_corner_caps"
    assert form.card.title.text() == "Corner caps"
    choose(menu, "No second person to lift")
    told = stands(form, "base_corner_caps")
    assert (told.state, told.why) == (PlaceState.UNSEEN, "no_second_person")
    choose(press(qtbot, form, "base_corner_caps"), "Looked at")
    assert stands(form, "base_corner_caps").state is PlaceState.SEEN
    choose(press(qtbot, form, "base_corner_caps"), "Live insect")
    assert stands(form, "base_corner_caps").signs == (Sign.LIVE_INSECT,)
    assert form.bed.view.hasFocus()


def test_every_number_can_be_pressed_where_it_stands(make_form, qtbot):
    form = make_form()
    for line in form.places.places.lines:
        if line.look is None:
            continue
        form.places.stand_on(line.look.bed, line.look.place.code)
        view = form.bed.view
        point = QPointF(view.point_of(line.look.place.code))
        assert view.place_at(point) == line.look.place.code
        mark = view.picture.mark_of(line.look.place.code)
        assert mark.number == line.number


def test_a_press_on_the_drawing_itself_counts_too(make_form, qtbot):
    form = make_form()
    view = form.bed.view
    mark = view.picture.mark_of("base_underside")
    box = view._box()
    anchor = QPoint(
        round(box.x() + mark.anchor[0] * box.width()) - 20,
        round(box.y() + mark.anchor[1] * box.width()) + 30,
    )
    assert view.place_at(QPointF(anchor)) == "base_underside"
    qtbot.mouseClick(view, Qt.MouseButton.LeftButton, pos=anchor)
    QApplication.activePopupWidget().close()
    assert form.places.current().place.code == "base_underside"


def test_a_press_beside_the_bed_changes_nothing(make_form, qtbot):
    form = make_form()
    before = form.places.current()
    qtbot.mouseClick(form.bed.view, Qt.MouseButton.LeftButton, pos=QPoint(3, 3))
    assert QApplication.activePopupWidget() is None
    assert form.places.current() == before


# --- keys -----------------------------------------------------------------------------------


def test_arrows_go_through_all_beds_in_looking_order(make_form, qtbot):
    form = make_form()
    view, reached = form.bed.view, []
    wanted = [line.key for line in form.places.places.lines if line.look]
    for key in [Key.Key_Right, Key.Key_Down] * len(wanted):
        here = form.places.current()
        if (here.bed, here.place.code) not in reached:
            reached.append((here.bed, here.place.code))
        assert view.current == here.place.code
        assert form.bed.bed() == here.bed
        qtbot.keyClick(view, key)
    assert reached == wanted
    for _step in wanted:
        qtbot.keyClick(view, Key.Key_Left)
    qtbot.keyClick(view, Key.Key_Up)
    assert form.places.current().place.code == "bedding"
    qtbot.keyClick(view, Key.Key_End)
    assert form.places.current().place.code == "headboard_front"
    qtbot.keyClick(view, Key.Key_Home)
    assert form.places.current().place.code == "bedding"
    assert view.hasFocus()


def test_the_keys_of_the_list_say_the_same_here(make_form, qtbot):
    form = make_form()
    view = form.bed.view
    qtbot.keyClick(view, Key.Key_N)
    qtbot.keyClick(QApplication.activePopupWidget(), Key.Key_4)
    assert stands(form, "bedding").why == "cannot_be_moved"
    qtbot.keyClick(view, Key.Key_Space)
    assert stands(form, "bedding").state is PlaceState.SEEN
    qtbot.keyClick(view, Key.Key_Space)
    assert stands(form, "bedding").why == "cannot_be_moved"
    qtbot.keyClick(view, Key.Key_L)
    assert stands(form, "bedding").state is PlaceState.SEEN
    qtbot.keyClick(view, Key.Key_F)
    qtbot.keyClick(QApplication.activePopupWidget(), Key.Key_1)
    assert stands(form, "bedding").signs == (Sign.LIVE_INSECT,)


def test_enter_offers_everything_at_once(make_form, qtbot):
    form = make_form()
    qtbot.keyClick(form.bed.view, Key.Key_Return)
    menu = QApplication.activePopupWidget()
    assert menu is form.card.everything
    choose(menu, "No time left")
    assert stands(form, "bedding").why == "no_time"


@pytest.mark.parametrize("where", ["list", "drawing"])
def test_one_key_says_that_all_of_a_bed_was_looked_at(make_form, qtbot, where):
    form = make_form()
    look = leave(form.draft.look, "101/A", "base_edge", "no_time")
    look = leave(look, "101/B", "slats", "no_time")
    look = find_signs(look, "101/A", "base_underside", (Sign.CAST_SKIN,))
    form._say(lambda *_args: look)
    qtbot.keyClick(form.places if where == "list" else form.bed.view, Key.Key_A)
    assert stands(form, "base_edge").state is PlaceState.SEEN
    assert stands(form, "base_underside").signs == (Sign.CAST_SKIN,)
    assert stands(form, "base_inside").why == "not_asked"
    assert stands(form, "slats", "101/B").why == "no_time"


def test_the_button_says_that_all_of_the_bed_shown_was_looked_at(make_form, qtbot):
    form = make_form()
    look = leave(form.draft.look, "101/B", "slats", "no_time")
    form._say(lambda *_args: look)
    form.bed.beds.setCurrentIndex(1)
    assert form.places.current().bed == "101/B"
    qtbot.mouseClick(form.bed.all_seen, Qt.MouseButton.LeftButton)
    assert stands(form, "slats", "101/B").state is PlaceState.SEEN


# --- what is shown ----------------------------------------------------------------------------


def test_the_drawing_and_the_list_share_the_place_and_outline_the_next(make_form):
    form = make_form()
    form.places.stand_on("101/A", "base_underside")
    assert (form.bed.view.current, form.bed.view.following) == (
        "base_underside",
        "base_staple_line",
    )
    form.places.stand_on("101/A", "headboard_front")
    assert form.bed.view.following == ""  # the next one is on another bed
    form.places.stand_on("", "skirting")
    assert form.bed.view.picture.kind == "room"
    assert form.bed.beds.tabText(form.bed.beds.currentIndex()) == "Room"


def test_what_is_left_or_found_is_said_in_words_below(make_form):
    form = make_form()
    assert form.bed.left_over.text() == "✓ Everything asked for was looked at"
    look = leave(form.draft.look, "101/A", "base_edge", "no_time")
    look = find_signs(look, "101/A", "base_underside", (Sign.LIVE_INSECT,))
    form._say(lambda *_args: look)
    assert "5 – Not looked at: No time left" in form.bed.left_over.text()
    assert "6 ! Found: Live insect" in form.bed.left_over.text()


def test_a_place_stands_on_the_drawing_by_sign_and_frame(make_form):
    form = make_form()
    look = leave(form.draft.look, "101/A", "base_edge", "no_time")
    look = find_signs(look, "101/A", "base_underside", (Sign.LIVE_INSECT,))
    form._say(lambda *_args: look)
    said = said_of(form.bed.view.looks.values(), current="bedding", following="mattress_top")
    assert said.glyphs["bedding"] == "✓"
    assert said.glyphs["base_edge"] == said.glyphs["base_inside"] == "–"
    assert said.glyphs["base_underside"] == "!"
    assert said.left == {"base_edge", "base_inside"}
    assert said.found == {"base_underside"}


def test_hatching_is_called_common_practice_and_no_measure(make_form):
    form = make_form()
    assert "Common practice, no measure" in form.bed.legend.hatching.text()
    assert form.bed.legend.hatching.isVisible()


def test_who_lifts_and_what_may_not_go_back_is_told_where_it_is_drawn(make_form):
    form = make_form()
    view = form.bed.view
    box = view._box()
    tips = [
        view.tip_at(QPointF(box.x() + lift.at[0] * box.width(), box.y() + lift.at[1] * box.width()))
        for lift in view.picture.lifts
    ]
    assert "2 people: Stand the mattress on its side." in tips[0]
    assert "keep clear of where it may fall" in tips[0]
    opened = view.tip_at(QPointF(view.point_of("base_inside")))
    assert "if in doubt" in opened
    assert "May not go back as it was" in opened


def test_each_step_is_told_to_screen_readers(make_form, qtbot, monkeypatch):
    told = []

    class Told:
        """Takes the place of what tells screen readers."""

        @staticmethod
        def updateAccessibility(event):
            told.append(event.message())

    form = make_form()
    monkeypatch.setattr(bed_view, "QAccessible", Told)
    qtbot.keyClick(form.bed.view, Key.Key_Right)
    assert told == ["2: Mattress top, piping and corners, likeliness 2 of 5, Looked at"]
    qtbot.keyClick(form.bed.view, Key.Key_N)
    qtbot.keyClick(QApplication.activePopupWidget(), Key.Key_5)
    assert told[-1].endswith("Not looked at, No time left")
    form.places.setFocus()
    before = len(told)
    qtbot.keyClick(form.places, Key.Key_Down)
    assert len(told) == before  # the list tells that itself
    assert form.bed.view.accessibleDescription().startswith("3: Mattress label")
    assert "Bed 101/A" in form.bed.view.accessibleName()
    read = QAccessible.queryAccessibleInterface(form.bed.view)
    assert read.text(QAccessible.Text.Name) == form.bed.view.accessibleName()


# --- looks ------------------------------------------------------------------------------------


def luminance(colour):
    """Relative luminance (WCAG 2.2, definition)."""
    parts = [
        share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4
        for share in (colour.redF(), colour.greenF(), colour.blueF())
    ]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def contrast(one, two):
    first, second = (luminance(QColor(colour)) + 0.05 for colour in (one, two))
    return max(first, second) / min(first, second)


@pytest.mark.parametrize("theme", list(LOOKS))
def test_lines_stand_out_from_every_ground_in_every_look(theme, qapp):
    style = style_of(palette_of(LOOKS[theme]), QFont())
    for ground in (style.ground, *style.shades.values(), *style.glow):
        assert contrast(style.ink, ground) >= LEAST_CONTRAST, ground
        assert contrast(style.hatch, ground) >= LEAST_CONTRAST, ground
    assert contrast(style.ink, style.ground) >= LEAST_TEXT_CONTRAST
    assert contrast(style.chosen, style.on_chosen) >= LEAST_TEXT_CONTRAST
    assert contrast(style.chosen, style.ground) >= LEAST_CONTRAST


@pytest.mark.parametrize("theme", list(LOOKS))
def test_likelier_places_stand_farther_from_the_ground(theme, qapp):
    style = style_of(palette_of(LOOKS[theme]), QFont())
    steps = [contrast(style.glow[0], ground) for ground in style.glow[1:]]
    assert steps == sorted(steps)


@pytest.mark.parametrize("size", list(TextSize))
@pytest.mark.parametrize("theme", [Theme.LIGHT, Theme.CONTRAST_DARK])
def test_a_number_is_large_enough_to_be_pressed_in_any_look(make_form, look, theme, size, qtbot):
    look.choose(theme, size)
    form = make_form(size=(1180, 900))
    view = form.bed.view

    def large_enough():
        box = fitted(view.rect().toRectF())
        style = style_of(view.palette(), view.font())
        return min(label_size(box, style, is_wide=True)) >= LEAST_TARGET_PX

    qtbot.waitUntil(large_enough)


@pytest.mark.parametrize("size", list(TextSize))
@pytest.mark.parametrize("width", [860, 1240])
def test_lines_below_the_drawing_do_not_run_into_the_list(make_form, look, qtbot, size, width):
    look.choose(Theme.LIGHT, size)
    form = make_form(size=(width, 900))
    look_now = form.draft.look
    for place in ("bedding", "mattress_top", "mattress_label", "base_edge", "base_underside"):
        look_now = leave(look_now, "101/A", place, "guest_belongings")
    form._say(lambda *_args: look_now)

    def apart():
        pane = form.bed
        hatching = pane.legend.hatching
        whole = all(
            one.height() >= one.heightForWidth(one.width()) for one in (pane.left_over, hatching)
        )
        lowest = hatching.mapTo(form.both, QPoint(0, hatching.height()))
        list_top = form.places.mapTo(form.both, QPoint(0, 0))
        above = form.both.orientation() is Qt.Orientation.Vertical
        is_clear = lowest.y() <= list_top.y() if above else lowest.y() <= form.both.height()
        return whole and is_clear and pane.left_over.geometry().bottom() < pane.legend.y()

    qtbot.waitUntil(apart)


@pytest.mark.parametrize(("width", "wanted"), [(900, "Vertical"), (1500, "Horizontal")])
def test_drawing_and_list_stand_beside_each_other_where_there_is_room(make_form, width, wanted):
    form = make_form(size=(width, 720))
    assert form.both.orientation() is Qt.Orientation[wanted]
    assert form.bed.view.isVisible()
    assert form.places.isVisible()
    assert form.places.viewport().height() >= 2 * form.places.place_height()


def test_a_brief_check_shows_its_places_as_not_asked(make_form):
    form = make_form()
    kind = form.head.kind
    kind.setCurrentIndex(kind.findData(CheckKind.BRIEF.value))
    kind.activated.emit(kind.currentIndex())
    said = said_of(form.bed.view.looks.values(), current="", following="")
    assert {"mattress_underside", "base_underside", "base_inside"} <= said.left
    assert "bedding" not in said.left
