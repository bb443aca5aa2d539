"""A drawing in the making: what is tried, what was done, who becomes a neighbour by it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from PySide6.QtCore import QObject, Signal

from hotelwatch.core.building.drawing import (
    Course,
    Drawing,
    Flaw,
    NewRoom,
    overlaps_with,
    shape_flaw,
)
from hotelwatch.core.building.neighbours import Kind
from hotelwatch.core.building.outlines import Outline, settled
from hotelwatch.core.building.redrawing import Change, Surroundings, Ways, changes, ways_of
from hotelwatch.core.building.rooms import Building, Corridor, RoomShape, drawn_shape, lay_out
from hotelwatch.core.facts import RoomDrawn, RoomNo
from hotelwatch.core.house import House


@dataclass(frozen=True, slots=True)
class Tried:
    """A room as it is drawn at the moment, and what that means."""

    room: RoomNo
    outline: Outline
    flaws: tuple[Flaw, ...]
    changes: tuple[Change, ...]


class DrawWork(QObject):
    """One drawing of rooms, from its beginning until it is saved or thrown away."""

    tried_changed = Signal()
    """The room at hand is drawn otherwise, or another room is at hand."""
    course_changed = Signal()
    """A step was done, undone or done again."""

    def __init__(self, parent: QObject) -> None:
        """Nothing to draw yet; ``begin`` starts from what is written down."""
        super().__init__(parent)
        self.course = Course()
        self.room: RoomNo | None = None
        self._house: House | None = None
        self._written: Mapping[RoomNo, RoomShape] = {}
        self._laid_out: Mapping[RoomNo, RoomShape] = {}
        self._building: Building | None = None
        self._around: Surroundings | None = None
        self._still: Surroundings | None = None
        self._before: dict[RoomNo, Ways] = {}
        self._trying: Outline | None = None

    # --- coming and going -----------------------------------------------------

    def begin(self, house: House, building: Building) -> None:
        """Start from what is written down."""
        self._house, self._building = house, building
        self._written = building.shapes
        self._laid_out = {}
        self._around = Surroundings(house, building)
        self._still = self._around.twin()
        self._before = {}
        self._trying = None
        self.course = Course()
        self.course_changed.emit()

    @property
    def is_changed(self) -> bool:
        """Whether there is something to save, what is tried included."""
        return self._trying is not None or self.course.now != Drawing()

    def choose(self, room: RoomNo | None) -> None:
        """Take another room in hand."""
        self.room = room if room is not None and self.shape_of(room) else None
        self._trying = None
        self.tried_changed.emit()

    # --- what is ---------------------------------------------------------------

    def shape_of(self, room: RoomNo) -> RoomShape | None:
        """A room as it is drawn now; None if there is none of that number."""
        return self._around.shape_of(room) if self._around is not None else None

    def outline(self) -> Outline:
        """The room at hand, as it is tried or drawn now."""
        if self._trying is not None:
            return self._trying
        shape = self.shape_of(self.room) if self.room is not None else None
        return shape.outline if shape else ()

    def is_drawn(self, room: RoomNo) -> bool:
        """Whether a room lies where somebody drew it, or would after this drawing."""
        if room in self.course.now.outlines:
            return bool(self.course.now.outlines[room])
        shape = self._written.get(room)
        return bool(shape and shape.is_drawn)

    def near(self, outline: Outline) -> list[Outline]:
        """Outlines around, to snap to."""
        shape = self.shape_of(self.room) if self.room is not None else None
        if shape is None or self._around is None or not outline:
            return []
        return [one.outline for one in self._around.near(replace(shape, outline=outline))]

    def building(self) -> Building | None:
        """All rooms as they are drawn now."""
        if self._building is None or self._around is None:
            return None
        names = (*self._written, *(new.room for new in self.course.now.new_rooms))
        changed = {*self.course.now.outlines}
        shapes = {
            room: shape
            for room in names
            if (shape := self.shape_of(room) if room in changed else self._written.get(room))
        }
        return replace(self._building, shapes=shapes)

    def tried(self) -> Tried | None:
        """What the room at hand is, and what that means; None without a room."""
        room, figures = self.room, self._house.rules.figures if self._house else None
        if room is None or figures is None or self._around is None:
            return None
        outline = self.outline()
        flaw = shape_flaw(room, outline, figures)
        if flaw is not None:
            return Tried(room, outline, (flaw,), ())
        shape = self.shape_of(room)
        assert shape is not None
        flaws = tuple(overlaps_with(shape, self._around.near(shape), figures))
        now = ways_of(self._around.of(room))
        own = changes(room, self._ways_before(room), now)
        return Tried(room, outline, flaws, (*own, *self._between_others(room, shape)))

    def _between_others(self, room: RoomNo, shape: RoomShape) -> Iterator[Change]:
        """Others that a room hides from each other across a corridor, or does no more."""
        assert self._around is not None
        assert self._still is not None
        there = [one for one in (self._still.shape_of(room), shape) if one is not None]
        had, has = self._still.across_beside(there), self._around.across_beside(there)
        for one, other in sorted(had ^ has):
            if room not in (one, other):
                gained = (Kind.ACROSS,) if (one, other) in has else ()
                yield Change(one, other, gained, () if gained else (Kind.ACROSS,))

    def all_flaws(self) -> tuple[Flaw, ...]:
        """Everything that keeps the drawing from being saved; each pair of rooms once."""
        if self._house is None or self._around is None:
            return ()
        figures = self._house.rules.figures
        found: dict[frozenset[str], Flaw] = {}
        for room, outline in self.course.now.outlines.items():
            if outline and (flaw := shape_flaw(room, outline, figures)) is not None:
                found[frozenset((room,))] = flaw
                continue
            shape = self.shape_of(room)
            for flaw in overlaps_with(shape, self._around.near(shape), figures) if shape else ():
                found.setdefault(frozenset((flaw.room, flaw.other)), flaw)
        return tuple(found.values())

    def _ways_before(self, room: RoomNo) -> Ways:
        if room not in self._written:
            return {}
        if room not in self._before:
            assert self._still is not None
            self._before[room] = ways_of(self._still.of(room))
        return self._before[room]

    # --- what one does -----------------------------------------------------------

    def try_outline(self, outline: Outline) -> None:
        """See what the room at hand would be like so; it is no step yet."""
        if self.room is None:
            return
        self._trying = outline
        self._place(self.room, outline)
        self.tried_changed.emit()

    def settle(self) -> None:
        """What is tried becomes a step."""
        if self.room is not None and self._trying is not None:
            outline, self._trying = self._trying, None
            before = self.course
            self._step(self.course.then(self.course.now.with_outline(self.room, outline)))
            if self.course is before:
                self.tried_changed.emit()

    def give_up(self) -> None:
        """Forget what is tried."""
        if self._trying is not None:
            self._trying = None
            self._replay()
            self.tried_changed.emit()

    def draw(self, outline: Outline) -> None:
        """Draw the room at hand so, as one step."""
        self.try_outline(outline)
        self.settle()

    def take_back(self) -> None:
        """Let the room at hand lie where the roster lays it out."""
        if self.room is not None and self.room in self._written:
            self._step(self.course.then(self.course.now.with_outline(self.room, ())))

    def split(self, new: NewRoom, kept: Outline, other: Outline) -> None:
        """Make two rooms of one; the new one is at hand then."""
        self._step(self.course.then(self.course.now.with_split(new, kept, other)))
        self.choose(new.room)

    def undo(self) -> None:
        """One step back."""
        self._trying = None
        self._step(self.course.undo())

    def redo(self) -> None:
        """One undone step on."""
        self._trying = None
        self._step(self.course.redo())

    def _step(self, course: Course) -> None:
        if course is self.course:
            return
        self.course, self._trying = course, None
        self._replay()
        if self.room is not None and self.shape_of(self.room) is None:
            self.room = None
        self.course_changed.emit()
        self.tried_changed.emit()

    # --- places ------------------------------------------------------------------

    def _replay(self) -> None:
        """Put every room where the drawing has it now."""
        assert self._around is not None
        for drawing in (*self.course.before, self.course.now, *self.course.after):
            for room in drawing.outlines:
                self._around.take_out(room)
                written = self._written.get(room)
                if written is not None:
                    self._around.put(written, self._wing_of(room))
        for room, outline in self.course.now.outlines.items():
            self._place(room, outline)

    def _place(self, room: RoomNo, outline: Outline) -> None:
        """Put a room there, if a room can be so; else it stays where it was."""
        assert self._house is not None
        assert self._around is not None
        figures = self._house.rules.figures
        if not outline:
            self._around.put(self._laid(room), self._wing_of(room))
        elif shape_flaw(room, outline, figures) is None:
            self._around.put(self._drawn(room, settled(outline)), self._wing_of(room))

    def _drawn(self, room: RoomNo, outline: Outline) -> RoomShape:
        like = replace(self._written[self._source_of(room)], room=room)
        corridor = self._corridor_of(room, like)
        ends = (corridor.start, corridor.end) if corridor else like.front
        return drawn_shape(like, outline, *ends)

    def _laid(self, room: RoomNo) -> RoomShape:
        if not self._laid_out:
            assert self._house is not None
            without = replace(
                self._house,
                kept={
                    kind: rows for kind, rows in self._house.kept.items() if kind is not RoomDrawn
                },
            )
            self._laid_out = lay_out(without).shapes
        return self._laid_out[room]

    def _source_of(self, room: RoomNo) -> RoomNo:
        if room in self._written:
            return room
        made = {new.room: new.source for new in self.course.now.new_rooms}
        while room not in self._written:
            room = made[room]
        return room

    def _wing_of(self, room: RoomNo) -> str:
        assert self._house is not None
        return self._house.rooms[self._source_of(room)].wing

    def _corridor_of(self, room: RoomNo, like: RoomShape) -> Corridor | None:
        wing = self._wing_of(room)
        corridors = self._building.corridors if self._building else ()
        return next((c for c in corridors if (c.floor, c.wing) == (like.floor, wing)), None)
