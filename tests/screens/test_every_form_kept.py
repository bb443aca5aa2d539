"""Every form of every page of the invented hotel: half entered, kept as JSON, put back anew."""

from __future__ import annotations

import json

import pytest
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractSpinBox, QDateTimeEdit, QLineEdit

from hotelwatch.screens.forms.entry_form import EntryForm
from hotelwatch.screens.forms.fields import ChoiceField
from hotelwatch.screens.forms.half_entered import _forms_of, half_entered, take_up
from hotelwatch.screens.layout.made_later import MadeLater
from hotelwatch.screens.pages import page_specs
from tests.walk import copied, open_form, settle, window_on

pytestmark = pytest.mark.walk
PAGES = [spec.key for spec in page_specs()]
TYPED = ("9", "1")
"""Fits any line, a number's too; the second where the first is too much."""
DAY_TYPED = "202603101200"
"""A day, and where a moment is asked for its hour."""
SEES_TO_ITSELF = {"checks"}


@pytest.fixture
def open_page(invented, look, tmp_path, qtbot):
    """A page of the window on a copy of the invented hotel."""
    made = []

    def make(key):
        folder = tmp_path / f"hotel-{len(made)}"
        window = window_on(copied(invented, folder), look, tmp_path / "choices")
        made.append(window)
        qtbot.addWidget(window)
        window.show()
        window.walk_to(key)
        settle(window)
        page = window.stack.pages[key]
        for part in page.findChildren(MadeLater):
            part.pane()
        settle(window)
        return page

    yield make
    for window in made:
        window._stop_and_close()


def lines_of(form):
    """Lines in which one may type what is kept, and those of PINs."""
    lines = [
        line
        for line in form.findChildren(QLineEdit)
        if not line.isReadOnly() and line.isEnabled() and not line.isHidden()
    ]
    choices = [choice.lineEdit() for choice in form.findChildren(ChoiceField)]
    lines = [line for line in lines if line not in choices]
    open_ones = [line for line in lines if line.echoMode() is QLineEdit.EchoMode.Normal]
    return open_ones, [line for line in lines if line not in open_ones]


def type_into(line):
    """As a person does: a number and a day have the keyboard in their field."""
    holder = line.parent()
    field = holder if isinstance(holder, QAbstractSpinBox) else line
    for typed in (DAY_TYPED,) if isinstance(field, QDateTimeEdit) else TYPED:
        if not line.isModified():
            field.selectAll()
            QTest.keyClicks(field, typed)


def choose_first(choice):
    """As a person does who picks the first of the list."""
    choice.choose(str(choice.itemData(0)))
    choice.activated.emit(choice.currentIndex())


@pytest.mark.timeout(300)
@pytest.mark.parametrize("key", [key for key in PAGES if key not in SEES_TO_ITSELF])
def test_what_is_typed_in_any_form_comes_back(open_page, key):
    page = open_page(key)
    begun = {}
    for found in _forms_of(page):
        name, form = found.name, found.form
        open_form(page, found)
        settle(page.window())
        open_ones, secret = lines_of(form)
        for choice in form.findChildren(ChoiceField):
            if choice.count():
                choose_first(choice)
        if not open_ones and not isinstance(found.holder, EntryForm):
            continue  # nothing to type: what a list or a chart shows
        for line in (*open_ones, *secret):
            type_into(line)
        kept = next((one for one in half_entered(page, "Page") if one["form"] == name), None)
        assert kept is not None, f"{name}: what was typed in it would be lost"
        begun[name] = json.loads(json.dumps(kept))
        assert kept["what"], name
    fresh = open_page(key)
    assert half_entered(fresh, "Page") == []
    for name, kept in begun.items():
        take_up(fresh, kept)
        settle(fresh.window())
        again = [one for one in half_entered(fresh, "Page") if one["form"] == name]
        assert again == [kept], name
        assert next(one for one in _forms_of(fresh) if one.name == name).form.isVisible(), name
    for made in (page, fresh):
        made.unsaved = tuple
