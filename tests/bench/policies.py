"""What people do without a planner, on the same knowledge: room by room into team after team."""

from __future__ import annotations

import numpy as np

from tests.bench.invented import AREA_MINUTES

NOBODY = 9999


class Filling:
    """Sheets of a day being filled."""

    def __init__(self, world, seen):
        self.world = world
        self.free = {k: int(m) for k, m in enumerate(seen.team_minutes[0]) if m > 0}
        self.sheets = {k: [] for k in self.free}
        self.areas = {k: set() for k in self.free}
        self.done = set()

    def cost(self, team, room):
        w = self.world
        way = 0 if w.area[room] in self.areas[team] else AREA_MINUTES
        return int(w.minutes[room]) + way

    def put(self, team, room):
        if self.cost(team, room) > self.free[team]:
            return False
        self.free[team] -= self.cost(team, room)
        self.areas[team].add(self.world.area[room])
        self.sheets[team].append(int(room))
        self.done.add(int(room))
        return True

    def put_anywhere(self, room):
        """With the team that is in its corridor already, else the first with minutes."""
        teams = sorted(self.free, key=lambda k: (self.world.area[room] not in self.areas[k], k))
        return any(self.put(team, room) for team in teams)


def _asked_first(filling, seen):
    asked = np.flatnonzero((seen.asked_by < NOBODY) & seen.open[:, 0])
    for room in sorted(asked, key=lambda r: (seen.asked_by[r], r)):
        filling.put_anywhere(room)


def earliest_due_first(world, horizon=1):
    """Open rooms by due day."""

    def policy(seen):
        filling = Filling(world, seen)
        _asked_first(filling, seen)
        rooms = [r for r in np.flatnonzero(seen.open[:, 0]) if int(r) not in filling.done]
        least = int(world.minutes.min())
        for room in sorted(rooms, key=lambda r: (seen.due[r], r)):
            if max(filling.free.values(), default=0) < least:
                break
            filling.put_anywhere(room)
        return filling.sheets

    return policy, horizon


def round_robin(world, horizon=1):
    """By room number from where yesterday ended; rooms that were not open are kept on a list."""
    state = {"next": 0, "kept": []}

    def policy(seen):
        filling = Filling(world, seen)
        _asked_first(filling, seen)
        kept = []
        for room in state["kept"]:
            if not (seen.open[room, 0] and room not in filling.done and filling.put_anywhere(room)):
                kept.append(room)
        for _ in range(world.rooms):
            room = state["next"] % world.rooms
            if room not in filling.done and seen.open[room, 0]:
                if not filling.put_anywhere(room):
                    break
            elif room not in filling.done and room not in kept:
                kept.append(room)
            state["next"] += 1
        state["kept"] = [r for r in kept if r not in filling.done]
        return filling.sheets

    return policy, horizon


def wing_sweep(world, horizon=190, share=0.15):
    """The most urgent room picks the corridor; then all of it with little of the cycle left.

    Most urgent: whose last known open working day up to its due day comes first.
    """

    def policy(seen):
        filling = Filling(world, seen)
        _asked_first(filling, seen)
        chance = _last_chance(seen)
        is_soon = chance < share * world.cycle
        waiting = set(np.flatnonzero(seen.open[:, 0]).tolist()) - filling.done
        by_area = {}
        for room in sorted(waiting, key=lambda r: (chance[r], r)):
            by_area.setdefault(int(world.area[room]), []).append(room)
        urgent = sorted(waiting, key=lambda r: (chance[r], r))
        least = int(world.minutes.min())
        for team in filling.free:
            for room in urgent:
                if filling.free[team] < least:
                    break
                if room in filling.done or not filling.put(team, room):
                    continue
                for other in by_area[int(world.area[room])]:
                    if other not in filling.done and is_soon[other]:
                        filling.put(team, other)
        return filling.sheets

    return policy, horizon


def _last_chance(seen):
    """The last known open working day up to the due one; the due one where none is known."""
    works = seen.team_minutes.sum(axis=1) > 0
    usable = seen.open & works[None, :]
    days = np.arange(usable.shape[1])
    last = np.where(usable & (days[None, :] <= seen.due[:, None]), days, -1).max(axis=1)
    return np.where((seen.due >= usable.shape[1]) | (last < 0), seen.due, last)
