"""A supervisor's hand on the calendar: what a menu or a drag writes down, and what refuses it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from functools import partial

from PySide6.QtCore import QObject, QPoint, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QMenu, QWidget

from hotelwatch.actions.by_hand import drop_pins, forbid_day, pin_check, pin_team, swap_sheets
from hotelwatch.core.checks.slots import SlotRow
from hotelwatch.core.facts import RoomNo, TeamName
from hotelwatch.core.round_facts import CheckPinned, DayForbidden, TeamPinned
from hotelwatch.core.rounds.calendar_rows import CalendarRows, Cell, Chip
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.rounds.moving import Hindrance, Moving, Target, able_teams, swapped
from hotelwatch.screens.at_hand.context import Context
from hotelwatch.screens.at_hand.notices import Bar
from hotelwatch.screens.at_hand.who_may import Deed, who_else
from hotelwatch.screens.rounds.plan_layout import Place, place_of
from hotelwatch.wording.dates import short_day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label
from hotelwatch.wording.plan_calendar import hindrance_sentence, no_swap_sentence

MOST_DAYS_IN_MENU = 28


class PlanHand(QObject):
    """Writes pins and forbidden days, and makes the menus that offer them."""

    written = Signal(str, object)
    """Something was written down: what, in words, and of which rooms. Time to plan anew."""

    opened = Signal(object)
    """The menu's way to a room, or to a cell's rooms in the list: its place."""

    def __init__(self, context: Context, parent: QWidget) -> None:
        """Act on this hotel; menus open over ``parent``."""
        super().__init__(parent)
        self._context, self._over = context, parent
        by_hand = Deed(_("Pin rooms and forbid days"), (CheckPinned, TeamPinned, DayForbidden))
        self._for_others = who_else(context, by_hand)
        self._moving: Moving | None = None
        self._hand: Hand | None = None
        self._rows = CalendarRows((), (), {})
        self._refusal: Bar | None = None
        self.menu: QMenu | None = None
        """The menu shown last."""

    def renew(self, rows: CalendarRows) -> None:
        """Take these rows, and the house as it is now."""
        hotel = self._context.hotel
        self._rows = rows
        self._hand = Hand(hotel.house)
        self._moving = Moving(hotel.house, hotel.occupancy(), today=hotel.today(), now=hotel.now())

    def refuse(self, chip: Chip, on: date, team: TeamName) -> str:
        """Why a room can't go to a day and a team, in words; empty if it can."""
        if self._moving is None or (chip.row.on, chip.row.team) == (on, team):
            return ""
        if self._for_others:
            return self._for_others
        found = self._moving.hindrance(chip.row, Target(on, team))
        if found is None:
            return ""
        return hindrance_sentence(found, row=chip.row, on=on, team=team)

    def say_refused(self, why: str) -> None:
        """Say why a room could not be dropped there; only the last word stays."""
        self._forget_refusal()
        self._refusal = self._context.notices.warn(why)

    def _forget_refusal(self) -> None:
        if self._refusal is not None and self._refusal in self._context.notices.bars():
            self._refusal.closed.emit(self._refusal)
        self._refusal = None

    # --- writing down -------------------------------------------------------

    def move(self, chip: Chip, on: date, team: str) -> None:
        """Pin a room to a day and a team."""
        told = _("Room {room} is pinned to {day}, {team}.").format(
            room=chip.room, day=short_day_text(on), team=team
        )
        self._write(partial(pin_check, pinned=CheckPinned(chip.room, on, team)), told, chip)

    def keep_team(self, chip: Chip, team: TeamName) -> None:
        """Pin a room to a team, whatever the day."""
        told = _("Room {room} is pinned to {team}.").format(room=chip.room, team=team)
        self._write(partial(pin_team, pinned=TeamPinned(chip.room, team)), told, chip)

    def forbid(self, chip: Chip, on: date) -> None:
        """Keep a room off a day."""
        told = _("Room {room}: not on {day}.").format(room=chip.room, day=short_day_text(on))
        self._write(partial(forbid_day, forbidden=DayForbidden(chip.room, on)), told, chip)

    def allow(self, chip: Chip, on: date) -> None:
        """Allow a room a day again."""
        told = _("Room {room}: {day} is allowed again.").format(
            room=chip.room, day=short_day_text(on)
        )
        allowed = DayForbidden(chip.room, on, holds=False)
        self._write(partial(forbid_day, forbidden=allowed), told, chip)

    def let_go(self, chip: Chip) -> None:
        """Take a room's pins away."""
        told = _("Room {room} is unpinned: the plan may move it.").format(room=chip.room)
        self._write(partial(drop_pins, room=chip.room), told, chip)

    def swap(self, cell: Cell, other: Cell) -> None:
        """Give two teams one another's rooms of a day, if every room can be done by its new one."""
        rows, teams = _swapping(cell, other)
        found = self._moving and self._moving.of_swap(rows, teams)
        if found:
            self._context.notices.warn(no_swap_sentence(*found))
            return
        pins = [CheckPinned(room, cell.on, team) for room, team in teams.items()]
        told = _("{team} and {other} swap their sheets of {day} once that is published.").format(
            team=cell.team, other=other.team, day=short_day_text(cell.on)
        )
        self._write(partial(swap_sheets, pins=pins), told, *cell.chips, *other.chips)

    def _write(self, action: Callable[..., object], told: str, *chips: Chip) -> None:
        self._forget_refusal()
        with self._context.notices.refusals():
            action(self._context.hotel)
            self.written.emit(told, frozenset(chip.room for chip in chips))

    # --- menus --------------------------------------------------------------

    def ask(self, place: Place, at: QPoint) -> None:
        """Show what a hand can do with a place on the calendar."""
        cell = self._rows.cells.get(place.sheet)
        chip = self._chip(place) if place.room else None
        opening = partial(self.opened.emit, place)
        if chip is not None:
            self._pop_up(self.chip_menu(chip, opening), at)
        elif cell is not None:
            self._pop_up(self.cell_menu(cell, opening), at)

    def ask_room(self, row: SlotRow, at: QPoint, own: QAction) -> None:
        """Show what a hand can do with a room in the list, whose own action comes last."""
        cell = self._rows.cells.get((row.on, row.team))
        chip = next((chip for chip in cell.chips if chip.row == row), None) if cell else None
        if chip is None:
            return
        menu = self.chip_menu(chip, partial(self.opened.emit, place_of(chip)))
        menu.addSeparator()
        menu.addAction(own)
        self._pop_up(menu, at)

    def _chip(self, place: Place) -> Chip | None:
        cell = self._rows.cells.get(place.sheet)
        return next((chip for chip in cell.chips if place.holds(chip)), None) if cell else None

    def _pop_up(self, menu: QMenu, at: QPoint) -> None:
        if self.menu is not None:
            self.menu.deleteLater()
        self.menu = menu
        menu.popup(at)

    def chip_menu(self, chip: Chip, opened: Callable[[], object]) -> QMenu:
        """What a hand can do with a room."""
        menu = QMenu(self._over)
        row, hand = chip.row, self._hand
        self._add(menu, _("&Open room {room}").format(room=chip.room), opened)
        if row.is_done or row.is_again or hand is None:
            return menu
        menu.addSeparator()
        if self._for_others:
            menu.addAction(self._for_others).setEnabled(False)
            return menu
        where = {"day": short_day_text(row.on), "team": row.team}
        here = self._add(
            menu,
            _("&Pin to {day}, {team}").format(**where),
            partial(self.move, chip, row.on, row.team),
        )
        here.setEnabled(not chip.is_day_pinned)
        self._days_menu(menu, chip)
        self._teams_menu(menu, chip)
        menu.addSeparator()
        off = self._add(
            menu, _("&Not on {day}").format(**where), partial(self.forbid, chip, row.on)
        )
        off.setEnabled(not chip.is_day_pinned)
        for day in sorted(hand.forbidden(chip.room)):
            if day >= self._context.hotel.today():
                text = _("&Allow {day} again").format(day=short_day_text(day))
                self._add(menu, text, partial(self.allow, chip, day))
        letting = self._add(menu, _("&Unpin"), partial(self.let_go, chip))
        letting.setEnabled(self._is_held(chip))
        return menu

    def cell_menu(self, cell: Cell, listed: Callable[[], object]) -> QMenu:
        """What a hand can do with a team's day."""
        menu = QMenu(self._over)
        self._add(menu, _("Show its &rooms in the list"), listed)
        if self._for_others:
            menu.addAction(self._for_others).setEnabled(False)
            return menu
        swapping = menu.addMenu(_("&Swap its sheet with"))
        for team in self._rows.teams:
            other = self._rows.cells.get((cell.on, team))
            if other is None or team == cell.team or not (other.minutes and cell.minutes):
                continue
            if cell.chips or other.chips:
                why = self._moving and self._moving.none_of_swap(*_swapping(cell, other))
                text = _("{team}: {why}").format(team=team, why=label(why)) if why else str(team)
                self._add(swapping, text, partial(self.swap, cell, other)).setEnabled(not why)
        swapping.setEnabled(not swapping.isEmpty())
        others = (self._rows.cells.get((cell.on, team)) for team in self._rows.teams)
        if not any(one is not None and one.minutes for one in others if one is not cell):
            swapping.setTitle(_("Swap its sheet: no other team works that day"))
        return menu

    def _days_menu(self, menu: QMenu, chip: Chip) -> None:
        """Days to go to, with its own team or else another; one that can't take it says why."""
        days = menu.addMenu(_("Pin to another &day"))
        for day in self._rows.days[:MOST_DAYS_IN_MENU]:
            if day == chip.row.on:
                continue
            team, why = self._team_for(chip, day)
            text = short_day_text(day)
            if why:
                text = _("{day}: {why}").format(day=text, why=why)
            elif team != chip.row.team:
                text = _("{day}, {team}").format(day=text, team=team)
            self._add(days, text, partial(self.move, chip, day, team)).setEnabled(not why)

    def _team_for(self, chip: Chip, day: date) -> tuple[TeamName, str]:
        """A team that can look at a room that day, its own first; else what hinders.

        Where its own team does not work, what hinders a team that does says more.
        """
        own = chip.row.team
        if self._moving is None:
            return own, ""
        teams = (own, *(team for team in self._rows.teams if team != own))
        found = self._moving.first_team(chip.row, day, teams)
        if found is not None:
            return found, ""
        hinders = [self._moving.hindrance(chip.row, Target(day, team)) for team in teams]
        told = next((one for one in hinders if one is not Hindrance.TEAM_AWAY), hinders[0])
        return own, label(told) if told else ""

    def _teams_menu(self, menu: QMenu, chip: Chip) -> None:
        teams = menu.addMenu(_("Pin to a &team"))
        for team in able_teams(self._context.hotel.house, chip.row):
            keeping = self._add(teams, team.team, partial(self.keep_team, chip, team.team))
            is_held = chip.is_team_pinned and team.team == chip.row.team
            keeping.setEnabled(not is_held)
        teams.setEnabled(not teams.isEmpty())

    def _is_held(self, chip: Chip) -> bool:
        today, hand = self._context.hotel.today(), self._hand
        if hand is None:
            return False
        return bool(hand.pinned_day(chip.room, today) or hand.pinned_team(chip.room, today))

    def _add(self, menu: QMenu, text: str, act: Callable[[], object]) -> QAction:
        action = menu.addAction(text)
        action.triggered.connect(partial(_call, act))
        return action


def _call(act: Callable[[], object], _checked: bool = False) -> None:
    act()


def _swapping(cell: Cell, other: Cell) -> tuple[tuple[SlotRow, ...], Mapping[RoomNo, TeamName]]:
    """The rooms of two sheets, and which team each of them would get."""
    mine, theirs = (tuple(chip.row for chip in one.chips) for one in (cell, other))
    return (*mine, *theirs), swapped(mine, theirs, (cell.team, other.team))
