from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication

from hotelwatch.actions.desk import front_desk
from hotelwatch.core.case_facts import CheckAsked, PhotoKept, QuarantinePlaced, Sighted, Sign
from hotelwatch.core.cases.case import case_of
from hotelwatch.core.facts import StaysImported
from hotelwatch.screens.at_hand.context import PageSpec
from hotelwatch.screens.cases.page import CasesPage
from hotelwatch.wording.cautions import caution_text
from hotelwatch.wording.desk import touched_sentence
from tests.build import day, house, moment

CONTROL = Qt.KeyboardModifier.ControlModifier
SPECS = (
    PageSpec("cases", "Cases", "cases", CasesPage),
    PageSpec("desk", "Front desk", "desk", CasesPage),
)


@pytest.fixture
def corridor():
    """Three rooms in a row with one below the middle one; a guest in the middle one."""
    build = house().floors("1", "2")
    build.room("0104", floor="1", order=2).bed("A")
    build.room("201", floor="2").bed("A")
    build.room("202", floor="2").bed("A").bed("B")
    build.room("203", floor="2").bed("A")
    return build


@pytest.fixture
def hotel(make_hotel, corridor):
    return make_hotel(corridor)


@pytest.fixture
def page(make_context, hotel, qtbot):
    made = CasesPage(make_context(hotel, pages=("checks", "cases", "desk")))
    qtbot.addWidget(made)
    made.resize(1000, 700)
    with qtbot.waitActive(made):
        made.show()
        made.activateWindow()
    made.refresh()
    made.log_sighting(None)
    return made


@pytest.fixture
def press(qtbot):
    """Presses keys where the keyboard is, popups first, and counts them."""
    pressed = []

    def keys(*told):
        for one in told:
            where = QApplication.activePopupWidget() or QApplication.focusWidget()
            if isinstance(one, str):
                for char in one:
                    where = QApplication.activePopupWidget() or QApplication.focusWidget()
                    qtbot.keyClicks(where, char)
                    pressed.append(char)
            else:
                key, modifier = one if isinstance(one, tuple) else (one, None)
                qtbot.keyClick(where, key, modifier or Qt.KeyboardModifier.NoModifier)
                pressed.append(key)
        return len(pressed)

    return keys


def fill(page, room="202", sign="live_insect"):
    page.sighting.form.room.choose(room)
    page.sighting.form.sign.choose(sign)
    page.sighting.propose()
    return page.sighting.form


def all_sighted(hotel):
    return hotel.house.all_of(Sighted)


def test_a_sighting_takes_ten_keys(make_window, hotel, press, qtbot):
    hotel.close()
    window = make_window(SPECS)
    assert window.open_path(hotel.path)
    qtbot.keyClick(window, Qt.Key.Key_L, CONTROL)
    form = window.stack.pages["cases"].sighting.form
    assert QApplication.focusWidget() is form.room
    keys = 1 + press("202", Qt.Key.Key_Tab, "li", Qt.Key.Key_Tab, (Qt.Key.Key_Return, CONTROL))
    (sighted,) = window.hotel.house.all_of(Sighted)
    assert (sighted.room, sighted.sign) == ("202", Sign.LIVE_INSECT)
    assert sighted.seen_by == "tester"
    assert sighted.seen_at == moment(40)
    assert keys <= 10
    # Keystroke-level model (Card, Moran, Newell 1980, Comm. ACM 23(7), from memory): 0.28 s a
    # key for an average typist and 1.35 s to think, counted here before every key.
    assert keys * (1.35 + 0.28) < 20


def test_enter_saves_once_the_list_of_choices_is_closed(page, hotel, press):
    press("0104", Qt.Key.Key_Tab, "eggs", Qt.Key.Key_Tab, Qt.Key.Key_Return)
    (sighted,) = all_sighted(hotel)
    assert (sighted.room, sighted.sign) == ("0104", Sign.EGGS)


@pytest.mark.parametrize(
    ("typed", "sign"),
    [("l", "live_insect"), ("e", "eggs"), ("c", "cast_skin"), ("g", "guest_word")],
)
def test_a_sign_is_chosen_by_its_first_letter(page, press, typed, sign):
    page.sighting.form.sign.setFocus()
    press(typed, Qt.Key.Key_Tab)
    assert page.sighting.form.sign.value() == sign


def test_the_answer_stands_beside_the_form_before_anything_is_saved(page, hotel, qtbot, press):
    press("202", Qt.Key.Key_Tab, "li", Qt.Key.Key_Tab)
    qtbot.waitUntil(lambda: page.sighting.answer.preview is not None)
    text = page.sighting.answer.text()
    assert "Opens case 2026-001" in text
    assert "Room 202" in text
    assert "shares a wall with 202" in text
    assert "below 202" in text
    # 24 hours after 10:00 Vienna time (UTC+1 in February) on 14 February 2026, a Saturday.
    assert "Sun 15 Feb 2026, 10:00 CET" in text
    assert list(page.sighting.answer.ticks) == ["202", "201", "203", "0104"]
    assert not all_sighted(hotel)


def test_the_answer_goes_when_the_room_is_no_room(page, qtbot):
    form = fill(page)
    assert page.sighting.answer.preview is not None
    form.room.setEditText("999")
    page.sighting.propose()
    assert page.sighting.answer.preview is None


def test_front_desk_is_told_whom_the_block_touches(make_context, make_hotel, corridor, qtbot):
    hotel = make_hotel(corridor.stays(("202", 38, 43), ("202", 44, 46)))
    imported = StaysImported("stays.csv", "0" * 64, day(30), 2, 0)
    hotel.record_stays(corridor.house.stays, imported)
    page = CasesPage(make_context(hotel))
    qtbot.addWidget(page)
    page.refresh()
    page.log_sighting("202")
    fill(page)
    text = page.sighting.answer.text()
    assert "is in house until Tue 17 Feb 2026. Move the guest." in text
    assert "comes Wed 18 Feb 2026 and leaves Fri 20 Feb 2026. Change the room." in text
    assert "Room 202: not to be sold from Sat 14 Feb 2026, 10:00 CET" in text
    assert not hotel.house.quarantines


def test_front_desk_is_told_of_held_neighbours_as_its_own_page_will_say(
    make_context, make_hotel, corridor, qtbot
):
    hotel = make_hotel(corridor.stays(("202", 38, 43), ("203", 40, 42)))
    imported = StaysImported("stays.csv", "0" * 64, day(30), 2, 0)
    hotel.record_stays(corridor.house.stays, imported)
    page = CasesPage(make_context(hotel))
    qtbot.addWidget(page)
    page.refresh()
    page.log_sighting("202")
    form = fill(page)
    text = page.sighting.answer.text()
    assert "Rooms 0104, 201 and 203: none to be sold until somebody has looked at it." in text
    page.sighting.answer.ticks["203"].setChecked(False)
    struck = page.sighting.answer.text()
    assert "Rooms 0104 and 201: none to be sold until" in struck
    assert "203: booking" not in struck
    page.sighting.answer.ticks["203"].setChecked(True)
    assert page.sighting.answer.text() == text
    form.try_to_save()
    rows = front_desk(hotel).arrivals
    assert [row.room for row in rows] == ["202", "203"]
    assert all(touched_sentence(row) in text for row in rows)


def test_a_neighbour_can_be_struck_out_with_the_keyboard_and_the_room_itself_not(
    page, hotel, press
):
    form = fill(page)
    ticks = page.sighting.answer.ticks
    assert not ticks["202"].isEnabled()
    ticks["203"].setFocus()
    press(Qt.Key.Key_Space)
    assert page.sighting.answer.struck == {"203"}
    press(Qt.Key.Key_Return)  # Enter saves from the ticks too
    assert [asked.room for asked in hotel.house.all_of(CheckAsked)] == ["202", "201", "0104"]
    assert [placed.room for placed in hotel.house.all_of(QuarantinePlaced)] == ["202"]
    assert form.not_asked == frozenset()


def test_another_room_takes_back_what_was_struck_out(page):
    fill(page)
    page.sighting.answer.ticks["201"].setChecked(False)
    form = fill(page, room="0104")
    assert form.not_asked == frozenset()


def test_a_room_with_one_bed_asks_for_no_bed(page):
    form = page.sighting.form
    form.room.choose("201")
    assert not form.bed.isVisible()
    form.room.choose("202")
    assert form.bed.isVisible()
    form.bed.choose("202/B")
    form.sign.choose("dark_spots")
    form.place.choose("mattress_top")
    form.count.setValue(3)
    form.note.setText("  near the label ")
    form.try_to_save()
    (sighted,) = all_sighted(page._context.hotel)
    assert (sighted.bed, sighted.place, sighted.count) == ("202/B", "mattress_top", 3)
    assert sighted.noted == "near the label"


def test_places_are_those_of_the_rooms_beds(page, hotel):
    form = page.sighting.form
    form.room.choose("202")
    offered = {form.place.itemData(n) for n in range(form.place.count())}
    kind = hotel.house.rules.bed_kinds["box_spring"]
    assert {place.code for place in kind.places_of(encased=False)} <= offered
    assert "divan_underside" not in offered


def test_what_is_lacking_is_said_at_its_field_and_nothing_typed_is_lost(page, hotel, press):
    form = page.sighting.form
    form.room.setEditText("77")
    form.note.setText("seen by torch")
    form.try_to_save()
    assert "no room 77" in form.form.problem_of(form.room)
    assert form.form.problem_of(form.sign)
    assert form.room.currentText() == "77"
    assert form.note.text() == "seen by torch"
    assert not all_sighted(hotel)


def test_nobody_named_and_a_moment_to_come_are_refused_at_their_fields(page, hotel):
    form = fill(page)
    form.who.clear()
    form.try_to_save()
    assert "Nobody is named" in form.form.problem_of(form.who)
    form.who.setText("Esther")
    form.when.setDateTime(form.when.dateTime().addSecs(3600))
    form.try_to_save()
    assert form.form.problem_of(form.when)
    assert form.form.problem_of(form.who) == ""
    assert form.sign.value() == "live_insect"
    assert not all_sighted(hotel)


def test_the_moment_is_the_hotels_local_time_and_follows_the_clock_until_edited(
    page, hotel, clock, press
):
    form = page.sighting.form
    assert form.when.text() == "2026-02-14 10:00"
    clock.moment = moment(40) + timedelta(minutes=5)
    assert fill(page).sighted().seen_at == clock.moment
    form.when.setFocus()
    form.when.setSelectedSection(form.when.Section.HourSection)
    press("08")
    assert form.sighted().seen_at == moment(40, 7)
    page.refresh()
    assert form.when.text().endswith("08:00")


def test_bites_bring_a_doctor_to_mind_and_nothing_else_does(page):
    form = page.sighting.form
    form.sign.choose("bites_reported")
    assert form.caution.isVisible()
    assert caution_text("bites") in form.caution.text()
    assert "no medical advice" in form.caution.text()
    form.sign.choose("eggs")
    assert not form.caution.isVisible()


def test_who_saw_it_is_remembered(page, hotel):
    form = fill(page)
    form.who.setText("Esther")
    form.try_to_save()
    page.log_sighting(None)
    assert form.who.text() == "Esther"
    assert page._context.people.names()[0] == "Esther"
    assert form.room.value() is None
    assert form.sign.value() is None


def test_the_notice_names_case_quarantine_and_deadline_and_leads_to_front_desk(page, went):
    fill(page).try_to_save()
    (bar,) = page._context.notices.bars()
    assert "Case 2026-001" in bar.label.text()
    assert "In quarantine: 202." in bar.label.text()
    assert "4 rooms to be looked at by Sun 15 Feb 2026, 10:00 CET." in bar.label.text()
    bar.button.click()
    assert went(page._context) == [("desk", None)]


def test_after_saving_the_case_is_in_view(page, hotel):
    fill(page).try_to_save()
    assert not page.sighting.isVisible()
    assert page.panel.case == case_of(hotel.house, "2026-001")
    assert page.table.current().no == "2026-001"


def test_escape_leaves_and_what_was_typed_is_there_again(page, hotel, press):
    form = fill(page)
    form.note.setFocus()
    press("torch", Qt.Key.Key_Escape)
    assert page.table.isVisible()
    page.log_sighting(None)
    assert form.note.text() == "torch"
    assert form.room.value() == "202"


def test_a_room_handed_over_is_filled_in(page):
    page.log_sighting("203")
    assert page.sighting.form.room.value() == "203"
    assert QApplication.focusWidget() is page.sighting.form.sign


def photo(tmp_path, name="spots.jpg"):
    path = tmp_path / name
    Image.new("RGB", (40, 30), (120, 20, 20)).save(path)
    return path


def drop(widget, *paths):
    told = QMimeData()
    told.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    entering = QDragEnterEvent(QPoint(9, 9), Qt.DropAction.CopyAction, told, buttons, keys)
    QApplication.sendEvent(widget, entering)
    if entering.isAccepted():
        action = Qt.DropAction.CopyAction
        QApplication.sendEvent(widget, QDropEvent(QPointF(9, 9), action, told, buttons, keys))
    return entering.isAccepted()


def test_a_photo_dragged_onto_the_form_is_kept_with_the_case(page, hotel, tmp_path):
    form = fill(page)
    assert drop(form, photo(tmp_path))
    assert "spots.jpg" in form.photo.said.text()
    form.try_to_save()
    (kept,) = hotel.house.all_of(PhotoKept)
    assert kept.case == "2026-001"
    assert form.photo.photos == ()


def test_a_file_that_is_no_photo_is_not_taken_or_is_refused_at_its_field(page, hotel, tmp_path):
    form = fill(page)
    (tmp_path / "list.csv").write_text("a,b", "utf-8")
    assert not drop(form, tmp_path / "list.csv")
    (tmp_path / "fake.jpg").write_text("no photo", "utf-8")
    assert drop(form, tmp_path / "fake.jpg")
    form.try_to_save()
    assert "fake.jpg" in form.form.problem_of(form.photo)
    assert not all_sighted(hotel)
    form.photo.forget.click()
    assert form.form.problem_of(form.photo) == ""


def test_many_photos_with_long_names_leave_the_form_as_wide_as_it_was(page, qtbot):
    form = fill(page)
    before = form.minimumSizeHint().width()
    form.photo.add(*(Path(f"/photos/{'seen at the headboard ' * 4}{n}.jpg") for n in range(4)))
    QApplication.sendPostedEvents()
    assert form.minimumSizeHint().width() == before
    assert form.photo.forget.isVisible()
    assert form.photo.forget.geometry().right() <= form.photo.width()


def test_a_photo_is_chosen_as_a_file_and_left_out_again(page, tmp_path):
    form = page.sighting.form
    page._context.files.chosen = photo(tmp_path)
    form.photo.choose.click()
    assert form.photo.photos == (tmp_path / "spots.jpg",)
    form.photo.forget.click()
    assert form.photo.photos == ()


def test_every_field_has_a_name_for_a_screen_reader(page, nameless):
    fill(page)
    assert nameless(page) == []


def test_a_sighting_begun_is_told_as_not_saved_until_it_is(page, qtbot):
    assert page.unsaved() == ()
    qtbot.keyClicks(page.sighting.form.note, "behind the headboard")
    assert page.unsaved() == ("A sighting is begun, but not saved.",)
    form = fill(page)
    form.try_to_save()
    assert page.unsaved() == ()
