"""A supervisor's hand on the plan, looks agreed with guests, nights asked of front desk."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, time, timedelta

from hotelwatch.actions.hotel import check_room, span_kept
from hotelwatch.actions.open_hotel import OpenHotel
from hotelwatch.core.facts import Fact, RoomNo, TeamName
from hotelwatch.core.house import House
from hotelwatch.core.problems import Refusal
from hotelwatch.core.records import Changes
from hotelwatch.core.round_facts import (
    CheckPinned,
    DayForbidden,
    NightAnswered,
    NightAsked,
    TeamPinned,
    VisitArranged,
    VisitDeclined,
)
from hotelwatch.core.rounds.hand import Hand
from hotelwatch.core.stays.agreed import (
    ArrangedVisit,
    arranged_visits,
    asked_nights,
    declined_visits,
)


def pin_check(hotel: OpenHotel, pinned: CheckPinned) -> Changes:
    """Pin a room's check to a day, and to a team if one is named; or take the pin away.

    A day on which the room can't be entered may be pinned: the plan says what it costs.
    Refusal("unknown_room"), ("unknown_team"), ("day_is_over"), ("day_is_forbidden"),
    ("nothing_pinned").
    """
    today = hotel.today()

    def decide(house: House) -> Sequence[Fact]:
        return _pinned(house, Hand(house), pinned, today)

    return hotel.record(decide, action="pin_check" if pinned.holds else "unpin_check")


def swap_sheets(hotel: OpenHotel, pins: Sequence[CheckPinned]) -> Changes:
    """Pin rooms of a day to the other of two teams, all of them or none.

    Refusal as ``pin_check`` says.
    """
    today = hotel.today()

    def decide(house: House) -> Sequence[Fact]:
        hand = Hand(house)
        return [fact for pin in pins for fact in _pinned(house, hand, pin, today)]

    return hotel.record(decide, action="swap_sheets")


def pin_team(hotel: OpenHotel, pinned: TeamPinned) -> Changes:
    """Let a room be looked at by one team, whatever the day; or by any again.

    Refusal("unknown_room"), ("unknown_team"), ("nothing_pinned").
    """
    today = hotel.today()

    def decide(house: House) -> Sequence[Fact]:
        check_room(house, pinned.room)
        known = Hand(house).pinned_team(pinned.room, today)
        if not pinned.holds:
            if known is None:
                raise Refusal("nothing_pinned", room=pinned.room)
            return [TeamPinned(pinned.room, known, holds=False)]
        _check_team(house, pinned.team)
        return [] if known == pinned.team else [pinned]

    return hotel.record(decide, action="pin_team" if pinned.holds else "unpin_team")


def drop_pins(hotel: OpenHotel, room: RoomNo) -> Changes:
    """Take the pins of a room away, to a day and to a team alike.

    Refusal("unknown_room"), ("nothing_pinned").
    """
    today = hotel.today()

    def decide(house: House) -> Sequence[Fact]:
        check_room(house, room)
        hand = Hand(house)
        pinned, team = hand.pin(room, today), hand.pinned_team(room, today)
        dropped: list[Fact] = []
        if pinned is not None:
            dropped.append(replace(pinned, holds=False))
        if team is not None:
            dropped.append(TeamPinned(room, team, holds=False))
        if not dropped:
            raise Refusal("nothing_pinned", room=room)
        return dropped

    return hotel.record(decide, action="unpin_check")


def forbid_day(hotel: OpenHotel, forbidden: DayForbidden) -> Changes:
    """Keep a room's check off a day; or allow the day again.

    Refusal("unknown_room"), ("day_is_over"), ("day_is_pinned"), ("day_not_forbidden").
    """
    today = hotel.today()

    def decide(house: House) -> Sequence[Fact]:
        check_room(house, forbidden.room)
        hand = Hand(house)
        is_known = forbidden.on in hand.forbidden(forbidden.room)
        said = {"room": forbidden.room, "day": forbidden.on.isoformat()}
        if not forbidden.holds:
            if not is_known:
                raise Refusal("day_not_forbidden", **said)
            return [forbidden]
        if forbidden.on < today:
            raise Refusal("day_is_over", day=forbidden.on.isoformat())
        if forbidden.on == hand.pinned_day(forbidden.room, today):
            raise Refusal("day_is_pinned", **said)
        return [] if is_known else [forbidden]

    return hotel.record(decide, action="forbid_day" if forbidden.holds else "allow_day")


def arrange_visit(hotel: OpenHotel, visit: VisitArranged) -> Changes:
    """Write down that a guest who stays agreed to a look; or that it is called off.

    Refusal("unknown_room"), ("day_is_over"), ("hours_are_over"), ("who_asked_missing"),
    ("unknown_clock_time"), ("clock_goes_back"), ("guest_yet_to_come") where the guest of
    that day arrives later than today, ("no_visit_arranged").
    """
    today = hotel.today()
    if visit.holds:
        begins, ends = span_kept(visit.from_clock, visit.until_clock)
        visit = replace(visit, from_clock=begins, until_clock=ends)
        if not visit.agreed_by.strip():
            raise Refusal("who_asked_missing")
        if visit.on < today:
            raise Refusal("day_is_over", day=visit.on.isoformat())
        told_at = hotel.now().astimezone(hotel.zone)
        if visit.on == today and time.fromisoformat(visit.until_clock) <= told_at.time():
            raise Refusal("hours_are_over", clock=visit.until_clock)

    def decide(house: House) -> Sequence[Fact]:
        check_room(house, visit.room)
        known = arranged_visits(house).get((visit.room, visit.on))
        said = {"room": visit.room, "day": visit.on.isoformat()}
        if not visit.holds:
            if known is None:
                raise Refusal("no_visit_arranged", **said)
            return [_called_off(known)]
        stay = hotel.occupancy().stay_on(visit.room, visit.on - timedelta(days=1))
        if stay is not None and stay.arrives_on > today:
            raise Refusal("guest_yet_to_come", **said, arrival=stay.arrives_on.isoformat())
        is_known = known is not None and known.agreed_on == today and known.says(visit)
        return [] if is_known else [visit]

    return hotel.record(decide, action="arrange_visit" if visit.holds else "call_off_visit")


def decline_visit(hotel: OpenHotel, declined: VisitDeclined) -> Changes:
    """Write down that a guest who stays was asked for a look and said no.

    Looks in that room to which this guest agreed before are called off with it: nobody goes
    in. Refusal("unknown_room"), ("who_asked_missing"), ("asked_later_than_today").
    """
    today = hotel.today()
    if not declined.declined_to.strip():
        raise Refusal("who_asked_missing")
    if declined.on > today:
        raise Refusal("asked_later_than_today", day=declined.on.isoformat())

    def decide(house: House) -> Sequence[Fact]:
        check_room(house, declined.room)
        known = declined_visits(house).get(declined.room, ())
        if any(no.on == declined.on and not no.is_ended for no in known):
            return []
        agreed = (
            visit
            for visit in arranged_visits(house).values()
            if visit.room == declined.room and visit.on >= today and visit.agreed_on <= declined.on
        )
        return [declined, *map(_called_off, agreed)]

    return hotel.record(decide, action="decline_visit")


def _called_off(visit: ArrangedVisit) -> VisitArranged:
    hours = visit.from_clock, visit.until_clock
    return VisitArranged(visit.room, visit.on, *hours, visit.agreed_by, holds=False)


def ask_nights(hotel: OpenHotel, nights: Sequence[NightAsked]) -> Changes:
    """Ask front desk to keep rooms free on nights; or withdraw what was asked.

    Refusal("unknown_room"), ("day_is_over"), ("night_needs_reason"), ("night_not_asked").
    """
    today = hotel.today()

    def decide(house: House) -> Sequence[Fact]:
        known = {(one.room, one.night): one for one in asked_nights(house, today)}
        wanted: list[Fact] = []
        for night in nights:
            check_room(house, night.room)
            one = known.get((night.room, night.night))
            if not night.holds:
                if one is None:
                    raise Refusal("night_not_asked", room=night.room, day=night.night.isoformat())
                wanted.append(night)
                continue
            if night.night < today:
                raise Refusal("day_is_over", day=night.night.isoformat())
            if not night.reason.strip():
                raise Refusal("night_needs_reason", room=night.room)
            # Asked again after a no, it waits for another answer.
            if one is None or one.is_kept is False:
                wanted.append(night)
        return wanted

    is_asking = any(night.holds for night in nights)
    return hotel.record(decide, action="ask_night" if is_asking else "withdraw_night")


def answer_night(hotel: OpenHotel, answer: NightAnswered) -> Changes:
    """Write down front desk's answer: whether the room is kept free that night.

    Refusal("night_not_asked"), ("who_answered_missing").
    """
    if not answer.by.strip():
        raise Refusal("who_answered_missing")

    def decide(house: House) -> Sequence[Fact]:
        asked = {(one.room, one.night): one for one in asked_nights(house, hotel.today())}
        one = asked.get((answer.room, answer.night))
        if one is None:
            raise Refusal("night_not_asked", room=answer.room, day=answer.night.isoformat())
        is_known = (one.is_kept, one.note) == (answer.is_kept, answer.note)
        return [] if is_known else [answer]

    return hotel.record(decide, action="answer_night")


def _pinned(house: House, hand: Hand, pinned: CheckPinned, today: date) -> list[Fact]:
    """What is written down for a pin, or for taking one away."""
    check_room(house, pinned.room)
    known = hand.pin(pinned.room, today)
    if not pinned.holds:
        if known is None:
            raise Refusal("nothing_pinned", room=pinned.room)
        return [replace(known, holds=False)]
    _check_team(house, TeamName(pinned.team))
    if pinned.on < today:
        raise Refusal("day_is_over", day=pinned.on.isoformat())
    if pinned.on in hand.forbidden(pinned.room):
        raise Refusal("day_is_forbidden", room=pinned.room, day=pinned.on.isoformat())
    is_same_team = not pinned.team or hand.pinned_team(pinned.room, today) == pinned.team
    return [] if known == pinned and is_same_team else [pinned]


def _check_team(house: House, team: TeamName) -> None:
    if team and team not in house.teams:
        raise Refusal("unknown_team", team=team)
