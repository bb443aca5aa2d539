"""The same hotel, day by day and room by room, without arrays: what the simulation must agree with.

Written for itself: every look, night and neighbour is a draw of its own, growth and chances
come from the equations, nothing is tabulated. Rounds follow the rule in words: corridors by
their most overdue room that is open, in each the most overdue rooms first.
"""

from __future__ import annotations

import math
from collections import defaultdict
from random import Random

from hotelwatch.core.odds.cycles.cycle_ways import look_of
from hotelwatch.core.odds.simulation.checking import checking
from hotelwatch.core.odds.simulation.hotel import KINDS


class Insects:
    def __init__(self, room, on, place, *, age=0.0, origin="stay"):
        self.room, self.on, self.place, self.age, self.origin = room, on, place, age, origin
        self.slept = False


class PlainYear:
    def __init__(self, plan, rule, setting, seed):
        self.plan, self.rule, self.s = plan, rule, setting
        self.random = Random(seed)
        self.hotel = plan.hotel
        self.rooms = range(self.hotel.size)
        self.minutes = checking(plan.odds, setting, rule, self.hotel).minutes.tolist()
        self.deep = look_of(plan.odds, setting, rule.way)
        self.glance, self.traps = (setting.look(plan.odds.looks[k]) for k in ("glance", "traps"))
        way, usual = rule.way, self.hotel.usual
        self.shares = usual.encased_shares if way.encased else usual.shares
        self.due = [self.random.random() * rule.cycle_days // 1 for _ in self.rooms]
        self.traps_on = [self.random.randrange(rule.trap_days) for _ in self.rooms]
        self.closed = [0] * self.hotel.size
        self.case_on = {}
        self.there = {}
        self.asked = defaultdict(dict)
        self.nights = [self._nights() for _ in self.rooms]
        self.counts = defaultdict(float)

    def _nights(self):
        """A room's nights: 0 nobody, 1 somebody new, 2 the same guest."""
        days, lets = self.plan.days, self.plan.lets
        codes = []
        while len(codes) < days + 60:
            codes += [0] * int(self.random.choice(lets.gaps))
            codes += [1] + [2] * (int(self.random.choice(lets.nights)) - 1)
        first = self.random.randrange(60)
        return codes[first : first + days]

    # --- equations ---------------------------------------------------------------------

    def insects(self, age):
        g = self.s.growth
        if age >= g.days[-1]:
            number = g.insects[-1] * math.exp(min(g.rate * (age - g.days[-1]), 50))
        else:
            k = max(n for n, day in enumerate(g.days) if day <= age)
            part = (age - g.days[k]) / (g.days[k + 1] - g.days[k])
            number = g.insects[k] ** (1 - part) * g.insects[k + 1] ** part
        return min(number, self.s.most_insects)

    def seen(self, look, one, insects):
        mean = sum(share * x for share, x in zip(self.shares, look.seen, strict=True))
        delta = self.s.away_share
        effort = insects * look.notice * ((1 - delta) * look.seen[one.place] + delta * mean)
        k = self.s.clumping
        return self.s.highest_chance * (1 - (1 + effort / k) ** -k)

    def guest(self, insects):
        most = self.s.guest_most
        return most * (1 - math.exp(-self.s.guest_notices * insects / most)) if most else 0.0

    # --- a day -----------------------------------------------------------------------------

    def run(self):
        for day in range(self.plan.days):
            self.counting = day >= self.plan.settling_days
            for one in list(self.there.values()):
                number = self.insects(one.age)
                if one.slept:
                    chance = 1 - (1 - self.seen(self.glance, one, number)) ** self.s.glance_weight
                    if self.random.random() < chance:
                        self.find(one, "bed_making", day)
                        continue
                if (
                    self.rule.way.traps
                    and (day - self.traps_on[one.room]) % self.rule.trap_days == 0
                ):
                    stood = min(one.age, self.rule.trap_days) / self.rule.trap_days
                    if self.random.random() < self.seen(self.traps, one, number * stood):
                        self.find(one, "traps", day)
            for room in self.rooms:
                arrives = self.nights[room][day] == 1 and self.closed[room] <= day
                if arrives and self.random.random() < self.s.introductions_per_stay:
                    self.come_in(room, day)
            self.look(day)
            self.night(day)
        return self.counts

    def come_in(self, room, day, *, age=0.0, origin="stay"):
        if room in self.there:
            return
        place = self.random.choices(range(6), self.shares)[0]
        self.there[room] = Insects(room, day, place, age=age, origin=origin)
        self.count(f"came_{origin}")

    def look(self, day):
        asked = {}
        for room, (why, case_on) in self.asked.pop(day, {}).items():
            own_case = self.case_on.get(room) == case_on
            if own_case if why == "follow_up" else self.closed[room] <= day:
                asked[room] = why
        used = 0.0
        for room, why in asked.items():
            used += self.minutes[room] + self.rule.corridor_minutes
            self.look_at(room, why, day)
        left = self.rule.minutes_by_weekday[day % 7] - used
        early = self.rule.early_days
        ready = [
            r
            for r in self.rooms
            if self.due[r] <= day + early and self.nights[r][day] != 2 and r not in asked
        ]
        corridors = defaultdict(list)
        for room in ready:
            corridors[int(self.hotel.corridor[room])].append((self.due[room], room))
        order = sorted((min(rooms)[0], c) for c, rooms in corridors.items())
        for due, corridor in order:
            if due > day:
                return
            for place, (_, room) in enumerate(sorted(corridors[corridor])):
                cost = self.minutes[room] + (0 if place else self.rule.corridor_minutes)
                if cost > left + 1e-9:
                    return
                left -= cost
                self.look_at(room, "check", day)

    def look_at(self, room, why, day):
        self.due[room] = day + self.rule.cycle_days
        self.count("looks")
        one = self.there.get(room)
        if one and self.random.random() < self.seen(self.deep, one, self.insects(one.age)):
            self.find(one, why, day)

    def night(self, day):
        aged = {1: 1.0, 0: self.s.vacant_night}
        share = self.s.growth.let_share
        usual = share + (1 - share) * self.s.vacant_night
        for one in list(self.there.values()):
            self.count("infested_nights")
            code = self.nights[one.room][day]
            is_let = code != 0 and self.closed[one.room] <= day
            is_new = code == 1 and one.on < day
            if is_let and (is_new or (one.on == day and one.origin == "neighbour")):
                self.count("guests_exposed")
            one.slept = is_let
            notices = is_let and self.random.random() < self.guest(self.insects(one.age))
            if notices:
                self.find(one, "guest", day + 1)
            else:
                one.age += aged[int(is_let)] / usual
        for one in list(self.there.values()):
            number = self.insects(one.age)
            pressure = number / (number + self.s.spread_half)
            near = zip(
                self.hotel.neighbours[one.room].tolist(),
                self.hotel.kinds[one.room].tolist(),
                strict=True,
            )
            for other, bits in near:
                chance = max(
                    (self.s.spread[k] for n, k in enumerate(KINDS) if bits >> n & 1), default=0.0
                )
                if self.random.random() < chance * pressure and self.closed[other] <= day:
                    self.come_in(other, day + 1, origin="neighbour")

    def find(self, one, why, closed_from):
        self.count(f"found_by_{why}")
        del self.there[one.room]
        room, rule = one.room, self.rule
        until = closed_from + rule.closed_days
        for day in range(max(closed_from, self.closed[room], self.plan.settling_days), until):
            if day < self.plan.days:
                self.counts["nights_lost"] += 1
        self.closed[room] = until
        self.case_on[room] = closed_from
        self.due[room] = until + rule.cycle_days
        for number in range(1, rule.follow_ups + 1):
            on = closed_from + number * rule.follow_up_days
            self.asked[on][room] = ("follow_up", closed_from)
        near = zip(
            self.hotel.neighbours[room].tolist(), self.hotel.kinds[room].tolist(), strict=True
        )
        for other, bits in near:
            if any(bits >> n & 1 and kind in rule.ring for n, kind in enumerate(KINDS)):
                self.ask_soon(other, closed_from)
        if self.random.random() >= self.s.treatment_success:
            age = next(a / 8 for a in range(4000) if self.insects(a / 8) >= self.s.survivors)
            self.come_in(room, closed_from, age=age, origin="survived")
        self.move_guest(room, closed_from)

    def ask_soon(self, room, day):
        last = day + max(1, self.rule.ring_days)
        for on in range(day + 1, last + 1):
            if on < self.plan.days and (self.nights[room][on] != 2 or on == last):
                self.asked[on].setdefault(room, ("ring", 0))
                return

    def move_guest(self, room, on):
        if on >= self.plan.days or self.nights[room][on] != 2:
            return
        if self.random.random() < self.s.moved_in:
            vacant = [r for r in self.rooms if self.nights[r][on] == 0 and self.closed[r] <= on]
            if vacant:
                self.come_in(self.random.choice(vacant), on, origin="moved")

    def count(self, what):
        if self.counting:
            self.counts[what] += 1
