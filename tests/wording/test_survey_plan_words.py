"""Surveys of the house in words: what is said, and what nobody must be able to quote."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hotelwatch.core.facts import RoomNo
from hotelwatch.core.odds.surveys.survey_answers import Looked
from hotelwatch.core.odds.surveys.survey_shown import what_it_shows
from hotelwatch.core.odds.surveys.survey_wish import (
    LookedRoom,
    PlannedRoom,
    SignMet,
    SpanShown,
    SurveyLook,
    SurveyOrder,
    SurveyPlan,
    SurveyQuestion,
    SurveyWish,
)
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.standing import Standing
from hotelwatch.wording import language
from hotelwatch.wording.survey_plan import (
    in_100_text,
    left_out_lines,
    look_text,
    looked_sentence,
    order_text,
    plan_headline,
    plan_lines,
    plan_rests,
    preset_text,
    span_lines,
)
from tests.build import day, rules
from tests.wording.test_survey_words import CERTAIN

RULES = rules().odds


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def by_stance(*chances):
    return dict(zip(Stance, chances, strict=True))


def room(number="101", seen=(0.47, 0.6, 0.72)):
    return PlannedRoom(
        RoomNo(number), "1", "", day(3), 20, by_stance(*seen), by_stance(0.02, 0.005, 0.001)
    )


REACHED = SurveyPlan(
    wish=SurveyWish(SurveyQuestion(12, 0.95, 0.02), day(0), 7),
    rooms=250,
    found=0,
    infested=5,
    chosen=tuple(room(str(101 + n)) for n in range(64)),
    minutes=1280,
    closed=0,
    unseen=0,
    finds=by_stance(0.951, 0.974, 0.999),
    alike=by_stance(0.5, 0.6, 0.7),
    is_reached=True,
    is_cut_short=False,
    census=by_stance(0.96, 0.98, 0.999),
    can_be_reached=True,
    rounds=1,
    least_infested=5,
)
NEVER = replace(
    REACHED,
    infested=1,
    finds=by_stance(0.4, 0.5, 0.6),
    census=by_stance(0.47, 0.6, 0.72),
    is_reached=False,
    can_be_reached=False,
    rounds=8,
    least_infested=5,
)


def all_lines(plan):
    return [
        plan_headline(plan),
        *plan_lines(plan),
        *left_out_lines(plan),
        *plan_rests(plan, RULES),
    ]


def test_what_a_survey_takes_and_finds():
    assert plan_headline(REACHED) == "Look at 64 rooms, 21 h 20 min of a team in all."
    assert list(plan_lines(REACHED)) == [
        "If 5 or more of the 250 rooms had at least 12 bed bugs, these looks would find at least"
        " one of them 97 times in 100 (between 95 and 99, depending on the settings). Were every"
        " room as likely infested as any other: 60 times in 100 (between 50 and 70, depending on"
        " the settings). They would say nothing about smaller infestations.",
        "What was asked for, 95 times in 100, is reached with each of the settings.",
    ]


def test_rooms_drawn_by_lot_are_alike_already():
    by_lot = replace(REACHED, wish=replace(REACHED.wish, order=SurveyOrder.AT_RANDOM))
    assert "Were every room" not in " ".join(plan_lines(by_lot))
    assert "no likelier among those not looked at" in " ".join(plan_rests(by_lot, RULES))
    assert "as likely as today's odds say" in " ".join(plan_rests(REACHED, RULES))


def test_what_no_number_of_rooms_shows_and_how_many_rounds_would():
    assert plan_headline(NEVER) == (
        "One infested room cannot be ruled out to 95 % in one round with this check, even if every"
        " room is looked at."
    )
    found, verdict = plan_lines(NEVER)
    assert found.startswith("What can be done: 64 rooms, 21 h 20 min of a team in all. If one or")
    assert verdict == (
        "What was asked for, 95 times in 100, is not reached. These looks reach 95 times in 100 if"
        " 5 rooms or more are infested. Looking once at every room of the hotel would find at"
        " least one 60 times in 100 (between 47 and 72, depending on the settings). 8 rounds"
        " through every room would be enough, if each look misses by itself (assumed)."
    )
    hopeless = replace(NEVER, rounds=None, least_infested=None)
    assert "Nor do more rounds help: this check sees too little." in list(plan_lines(hopeless))[1]


def test_what_only_less_favourable_settings_miss_is_said_so():
    short = replace(REACHED, finds=by_stance(0.93, 0.97, 0.99), is_reached=False)
    assert plan_headline(short) == "The rooms that can be entered on these days are not enough."
    assert list(plan_lines(short))[1].startswith("With the less favourable settings what was asked")
    assert list(plan_lines(short))[1].endswith("More days let more rooms be entered.")
    tight = replace(
        short, is_cut_short=True, wish=replace(short.wish, minutes_at_most=120), chosen=(room(),)
    )
    assert plan_headline(tight) == "In 2 h not enough rooms can be looked at."
    assert "What can be done: 1 room," in next(plan_lines(tight))


def test_where_no_room_opens_nothing_is_claimed():
    shut = replace(
        REACHED,
        chosen=(),
        minutes=0,
        finds=by_stance(0.0, 0.0, 0.0),
        is_reached=False,
        closed=250,
        least_infested=None,
    )
    assert plan_headline(shut).startswith("No room can be entered on these days")
    assert list(plan_lines(shut)) == [
        "What was asked for, 95 times in 100, is not reached. More days let more rooms be entered."
    ]
    assert list(plan_rests(shut, RULES)) == [
        "Lifting takes two people; local rules on lifting go first."
    ]


def test_rooms_left_out_are_named():
    plan = replace(REACHED, closed=1, unseen=2, found=1)
    assert list(left_out_lines(plan)) == [
        "1 room cannot be entered on these days; it counts as one that may be infested.",
        "2 rooms have no bed on the roster: a look there counts for nothing.",
        "1 room with a confirmed find is not counted here.",
    ]


def test_inputs_say_whether_they_are_assumed_or_measured_here():
    assert "47 to 72 times in 100 (assumed)" in next(plan_rests(REACHED, RULES))
    notice = replace(RULES.figures.notice_deep, standing=Standing.MEASURED)
    own = RULES.with_figures({"notice_deep": notice})
    assert "47 to 72 times in 100 (measured here)" in next(plan_rests(REACHED, own))
    assert preset_text(RULES) == (
        "At first: 1 % of the rooms (common practice, no source), 12 bed bugs (published), found"
        " 95 times in 100 (common practice, no source). What you ask is yours to choose."
    )


def test_work_that_can_hurt_bears_its_caution():
    for look in SurveyLook:
        plan = replace(REACHED, wish=replace(REACHED.wish, look=look))
        told = list(plan_rests(plan, RULES))
        assert told[-1] == "Lifting takes two people; local rules on lifting go first."
        opens = look in (SurveyLook.COVER, SurveyLook.FULL)
        takes = look in (SurveyLook.HEADBOARD, SurveyLook.FULL)
        assert any(line.startswith("Dust covers: ") for line in told) is opens
        assert any(line.startswith("Headboards: ") for line in told) is takes


def test_a_single_insect_is_the_smallest_there_is():
    one = replace(REACHED, wish=replace(REACHED.wish, question=SurveyQuestion(1, 0.95, 0.02)))
    said = next(plan_lines(one))
    assert "at least 1 bed bug," in said
    assert "smaller" not in said


def test_every_look_and_order_has_its_words():
    assert len({look_text(look) for look in SurveyLook}) == len(SurveyLook)
    assert len({order_text(order) for order in SurveyOrder}) == len(SurveyOrder)


def test_times_in_100_in_a_column():
    assert in_100_text(by_stance(0.469, 0.604, 0.724)) == "60 (46 to 72)"
    assert in_100_text(by_stance(0.5, 0.5, 0.5)) == "50"
    assert in_100_text(by_stance(0.9, 1.0, 1.0)) == "99 (90 to 99)"
    assert in_100_text(by_stance(0.0, 0.001, 0.02)) == "fewer than 1 (fewer than 1 to 2)"


# --- what looks of some days show -----------------------------------------------------------


def span(*, looks=150, signs=(), found=0):
    question = SurveyQuestion(12, 0.95, 0.02)
    of = {
        stance: what_it_shows(
            [Looked(RoomNo(str(n)), seen) for n in range(looks)],
            rooms=250,
            infested=5,
            insects=12,
            confidence=0.95,
        )
        for stance, seen in by_stance(0.7, 0.8, 0.9).items()
    }
    rooms = tuple(
        LookedRoom(RoomNo(str(n)), "1", 1, day(9), by_stance(0.7, 0.8, 0.9)) for n in range(looks)
    )
    return SpanShown(
        question, day(0), day(13), 250, found, 5, rooms, tuple(signs), {} if signs else of
    )


def test_what_looks_of_some_days_show():
    told = span(found=2)
    assert looked_sentence(told) == (
        "Looked at from Mon 5 Jan 2026 to Sun 18 Jan 2026: 150 of 250 rooms."
    )
    first, *others = span_lines(told, RULES)
    assert first == (
        "If 5 or more of the 250 rooms had at least 12 bed bugs, this survey would have found at"
        " least one of them 96 times in 100 (between 93 and 98, depending on the settings)."
    )
    assert "With cautious settings what was asked for, 95 times in 100, is not reached." in others
    assert others[-1] == "2 rooms with confirmed finds are not counted here."
    assert any("on each of these days" in line for line in others)


def test_with_a_find_among_them_nothing_is_said_of_the_rest():
    signs = (SignMet(RoomNo("204"), day(7), True), SignMet(RoomNo("310"), day(8), False))
    lines = list(span_lines(span(signs=signs), RULES))
    assert lines[0] == (
        "On these days something was found or told: room 204 on Mon 12 Jan 2026, judged to be bed"
        " bugs; room 310 on Tue 13 Jan 2026, not judged yet."
    )
    assert not any("times in 100" in line for line in lines)
    assert lines[-1].startswith("What is not judged yet counts until")
    judged = list(span_lines(span(signs=signs[:1]), RULES))
    assert not any("not judged" in line for line in judged)


def test_without_a_look_or_a_room_nothing_is_shown():
    assert list(span_lines(span(looks=0), RULES)) == [
        "No room was looked at: this survey shows nothing."
    ]
    empty = replace(span(), rooms=0, of={})
    assert list(span_lines(empty, RULES)) == ["There is no room of which a survey could speak."]


def test_nobody_can_quote_a_certainty():
    sure = replace(REACHED, finds=by_stance(1.0, 1.0, 1.0), alike=by_stance(1.0, 1.0, 1.0))
    plans = [REACHED, NEVER, sure, replace(NEVER, census=by_stance(0.0, 0.0, 0.0))]
    lines = [line for plan in plans for line in all_lines(plan)]
    lines += [*span_lines(span(), RULES), *span_lines(span(looks=250), RULES)]
    assert len(lines) > 20
    for line in lines:
        assert not CERTAIN.search(line), line
        assert "{" not in line
        assert line.endswith(".")


def test_every_sentence_goes_through_translation():
    language.use(language.PSEUDO)
    lines = [*all_lines(REACHED), *all_lines(NEVER), *span_lines(span(found=1), RULES)]
    assert len(lines) > 12
    assert all(line.startswith("[") and line.endswith("]") for line in lines)
