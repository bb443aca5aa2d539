"""What is half entered in the forms of a page, as plain values, and the way back into them.

It knows no form and no page by name. A form is known by the class it belongs to; ``about()``
of that class, where there is one, says what the form is about besides its fields (a case, a
team). On the way back each holder around a form that has ``bring(holder, about)`` is asked,
from the page inwards, to bring the form into view for that; tabs turn by themselves.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from PySide6.QtWidgets import QStackedWidget, QTabWidget, QWidget

from hotelwatch.screens.forms.entry_form import EntryForm
from hotelwatch.screens.forms.fields import Form
from hotelwatch.screens.forms.values import put_back, values_of
from hotelwatch.screens.layout.card import Card
from hotelwatch.screens.layout.flow import UprightScroll
from hotelwatch.screens.layout.made_later import MadeLater
from hotelwatch.wording.language import _

FRAMES = (Form, UprightScroll, Card)
OURS = "hotelwatch."


def half_entered(page: QWidget, title: str) -> list[dict[str, Any]]:
    """Each form of a page that a person began, those out of sight first.

    ``title`` is the page's; with the form's tab it stands for a form without a title.
    """
    own = {entry.form: entry for entry in page.findChildren(EntryForm)}
    begun = [form for form in page.findChildren(Form) if _is_begun(form, own.get(form))]
    if not begun:
        return []
    return [
        {
            "form": found.name,
            "what": found.what(title),
            "about": found.about(),
            "fields": values_of(found.form.fields),
        }
        for found in sorted(_forms_of(page), key=lambda found: found.form.isVisible())
        if found.form in begun
    ]


def not_saved(page: QWidget) -> tuple[str, ...]:
    """What is half entered in the forms of a page, as whoever closes it is told."""
    begun = half_entered(page, page.windowTitle())
    return tuple(_("Not saved: “{form}”.").format(form=form["what"]) for form in begun)


def take_up(page: QWidget, kept: Mapping[str, Any]) -> None:
    """Bring a form into view and fill it with what it held.

    LookupError where there is no such form, or what it is about is gone.
    """
    for part in page.findChildren(MadeLater):
        part.pane()
    found = next((one for one in _forms_of(page) if one.name == kept["form"]), None)
    if found is None:
        raise LookupError(kept["form"])
    for around in found.around:
        if hasattr(around, "bring"):
            around.bring(found.holder, kept["about"])
        if isinstance(around, QTabWidget | QStackedWidget) and around.objectName()[:3] != "qt_":
            around.setCurrentIndex(_place_of(around, found.form))
    put_back(found.form.fields, kept["fields"])
    if kept["fields"]:
        found.form.count_as_begun()


@dataclass(frozen=True, slots=True)
class Found:
    """A form of a page, with what holds it from the page inwards."""

    form: Form
    name: str
    around: tuple[QWidget, ...]

    @property
    def holder(self) -> QWidget:
        """The form of its own, the card or the pane that it belongs to."""
        return _holder(self.around)

    def what(self, title: str) -> str:
        """What it is, in words."""
        if isinstance(self.holder, EntryForm):
            return self.holder.in_words()
        tabs = [one for one in self.around if isinstance(one, QTabWidget)]
        return ", ".join([title, *(one.tabText(_place_of(one, self.form)) for one in tabs)])

    def about(self) -> Any:  # noqa: ANN401 whatever JSON can hold
        """What it is about besides its fields; None: nothing."""
        asked = getattr(self.holder, "about", None)
        return asked() if callable(asked) else None


def _is_begun(form: Form, entry: EntryForm | None) -> bool:
    """A form with buttons of its own says so itself; any other is once somebody typed in it."""
    return entry.is_begun() if entry is not None else form.is_typed()


def _forms_of(page: QWidget) -> list[Found]:
    """Forms that stand on their own, by the name of what holds them and a number.

    What holds them is looked for from the page inwards: asked for its parent, PySide makes
    an object for it that takes the form's own with it when it goes.
    """
    found: list[Found] = []
    names: list[str] = []
    around = [page]
    for one in page.findChildren(QWidget):
        if not page.isAncestorOf(one):
            continue  # in a window of its own, as the list of a choice
        # Qt gives what holds something before what it holds.
        while not around[-1].isAncestorOf(one):
            around.pop()
        if isinstance(one, Form) and not any(isinstance(outer, Form) for outer in around):
            name = type(_holder(tuple(around))).__name__
            names.append(name)
            found.append(Found(one, f"{name} {names.count(name)}", tuple(around)))
        around.append(one)
    return found


def _holder(around: tuple[QWidget, ...]) -> QWidget:
    for one in reversed(around):
        kind = type(one)
        if kind.__module__.startswith(OURS) and kind not in FRAMES and kind.__name__[0] != "_":
            return one
    return around[0]


def _place_of(tabs: QTabWidget | QStackedWidget, inside: QWidget) -> int:
    held = [tabs.widget(place) for place in range(tabs.count())]
    return next(
        (n for n, tab in enumerate(held) if tab is not None and tab.isAncestorOf(inside)),
        tabs.currentIndex(),
    )
