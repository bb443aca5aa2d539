from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
import vobject
from hypothesis import given, settings
from hypothesis import strategies as st

from hotelwatch.core.case_facts import Sighted, Sign
from hotelwatch.core.facts import (
    BedDescribed,
    BedNo,
    CaseNo,
    HotelDescribed,
    RoomDescribed,
    RoomNo,
    RoundPublished,
    Side,
    SlotPublished,
    TeamDescribed,
    TeamName,
)
from hotelwatch.core.problems import Refusal
from hotelwatch.core.round_facts import HouseDaysClosed, TeamDaysChanged, VisitDeclined
from hotelwatch.core.rounds.team_days import Round, published_round
from hotelwatch.papers.round_calendar import (
    round_calendar,
    write_round_calendar,
    write_team_calendars,
)
from hotelwatch.wording import language
from tests.build import day, house, moment

BLUE, RED = TeamName("Blue"), TeamName("Früh; spät, \\ team")
MADE_AT = datetime(2026, 1, 6, 8, 0, tzinfo=UTC)


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


# --- a second reader ---------------------------------------------------------------------
# RFC 5545 by hand, apart from the library that writes: lines end in CRLF (3.1), a line that
# begins with a blank goes on the one before it, unfolded octet by octet; commas, semicolons,
# backslashes and line ends are escaped in text (3.3.11).


def unfolded(content: bytes) -> list[str]:
    assert content.endswith(b"\r\n")
    return content.replace(b"\r\n ", b"").decode("utf-8").split("\r\n")[:-1]


def unescaped(text: str) -> str:
    return re.sub(r"\\(.)", lambda m: "\n" if m[1] in "nN" else m[1], text)


def read(content: bytes) -> list[dict[str, str]]:
    """Each event's properties, with their parameters as they stand; text is unescaped."""
    events, open_event = [], None
    for line in unfolded(content):
        name, value = re.match(r'((?:[^":]|"[^"]*")*):(.*)', line).groups()
        if (name, value) == ("BEGIN", "VEVENT"):
            open_event = {}
        elif (name, value) == ("END", "VEVENT"):
            events.append(open_event)
            open_event = None
        elif open_event is not None:
            assert name not in open_event, name
            open_event[name] = unescaped(value)
    assert open_event is None
    return events


# --- rounds -------------------------------------------------------------------------------


def slot(on, team, position, room, asked_by=""):
    return SlotPublished(day(on), team, position, RoomNo(room), (f"{room}/A",), 20, asked_by)


def an_inn():
    build = house().team(BLUE).team(RED)
    for room in ("101", "102", "103", "104"):
        build.room(room).bed("A")
    return build


def published(build, first, last, *slots):
    build.record(RoundPublished(day(first), day(last)), *slots)
    return build


def usual():
    build = an_inn().on(0)
    build.record(
        Sighted(CaseNo("2026-007"), RoomNo("104"), "", "", Sign.LIVE_INSECT, 1, "x", moment(0))
    )
    return published(
        build,
        0,
        6,
        slot(1, BLUE, 1, "103"),
        slot(1, BLUE, 2, "101", "2026-007"),
        slot(1, RED, 1, "102"),
        slot(2, BLUE, 1, "104"),
    )


def told(build, first=0, last=6) -> Round:
    return published_round(build.house, day(first), day(last))


def calendar(build, first=0, last=6, **more):
    return round_calendar(build.house, told(build, first, last), made_at=MADE_AT, **more)


def test_each_team_and_day_is_one_event_with_its_rooms_in_walking_order():
    events = read(calendar(usual()))
    assert [event["DTSTART;VALUE=DATE"] for event in events] == ["20260106", "20260106", "20260107"]
    assert [event["DTEND;VALUE=DATE"] for event in events] == ["20260107", "20260107", "20260108"]
    assert events[0]["SUMMARY"] == "Round, team Blue: 2 rooms, 48 min"
    lines = events[0]["DESCRIPTION"].split("\n")
    assert lines[:2] == ["1. Room 103, 20 min", "2. Room 101, 20 min, asked for"]
    assert "48 min of 2 h, ways to corridors counted" in lines
    # Published on day 0, a day before the first of these.
    assert all("its morning fills up the day" in event["DESCRIPTION"] for event in events)
    on_its_day = published(an_inn().on(1), 1, 1, slot(1, BLUE, 1, "103"))
    (event,) = read(calendar(on_its_day))
    assert "its morning" not in event["DESCRIPTION"]
    assert events[1]["SUMMARY"] == f"Round, team {RED}: 1 room, 28 min"
    assert {event["STATUS"] for event in events} == {"CONFIRMED"}


def test_another_library_reads_the_same():
    # vobject, a reader of others, maintained apart from the library that writes.
    events = read(calendar(usual()))
    (parsed,) = vobject.readComponents(calendar(usual()).decode("utf-8"))
    assert len(parsed.vevent_list) == len(events)
    for event, theirs in zip(events, parsed.vevent_list, strict=True):
        assert theirs.summary.value == event["SUMMARY"]
        assert theirs.description.value == event["DESCRIPTION"]
        assert theirs.uid.value == event["UID"]
        assert theirs.dtstart.value == date.fromisoformat(event["DTSTART;VALUE=DATE"])
        assert theirs.dtstamp.value == MADE_AT


def test_the_calendar_itself_has_what_rfc_5545_wants():
    # 3.6, 3.7: VERSION and PRODID once; 3.6.1: UID and DTSTAMP in each event; 3.3.5: Z is UTC.
    lines = unfolded(calendar(usual()))
    assert lines[0] == "BEGIN:VCALENDAR"
    assert lines[-1] == "END:VCALENDAR"
    assert lines.count("VERSION:2.0") == 1
    assert sum(line.startswith("PRODID:") for line in lines) == 1
    for event in read(calendar(usual())):
        assert event["UID"]
        assert event["DTSTAMP"] == "20260106T080000Z"


def long_named():
    build = usual()
    build.record(replace(build.house.teams[BLUE], team=TeamName("Ä" * 90), minutes=120))
    published(
        build,
        3,
        3,
        *(
            slot(3, TeamName("Ä" * 90), n, room)
            for n, room in enumerate(("101", "102", "103", "104"), 1)
        ),
    )
    return build


def test_no_line_is_longer_than_75_octets_and_each_ends_in_crlf():
    # RFC 5545, 3.1: 75 octets without the line break; a fold may not cut what it restores.
    content = calendar(long_named())
    assert b"\n" not in content.replace(b"\r\n", b"")
    assert b"\r" not in content.replace(b"\r\n", b"")
    assert max(len(line) for line in content.split(b"\r\n")) <= 75
    assert any(len(line.encode()) > 75 for line in unfolded(content))
    assert any("Ä" * 90 in event["SUMMARY"] for event in read(content))


@given(st.text(st.characters(exclude_categories=("C", "Zl", "Zp")), min_size=1, max_size=60))
@settings(max_examples=60, deadline=None)
def test_any_name_of_a_team_comes_back_as_it_was(name):
    build = an_inn().team(name)
    published(build, 0, 0, slot(0, TeamName(name), 1, "101"))
    content = calendar(build, 0, 0)
    assert max(len(line) for line in content.split(b"\r\n")) <= 75
    assert read(content)[0]["SUMMARY"] == f"Round, team {name}: 1 room, 28 min"


# --- times ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("zone", "first", "begins", "ends"),
    [
        # Vienna is an hour ahead of UTC in winter; New York five behind.
        ("Europe/Vienna", 0, "20260105T083000Z", "20260105T150000Z"),
        ("America/New_York", 0, "20260105T143000Z", "20260105T210000Z"),
        # Summer time begins on 29 March 2026 in Vienna: the same clock, an hour earlier in UTC.
        ("Europe/Vienna", 83, "20260329T073000Z", "20260329T140000Z"),
    ],
)
def test_a_shift_is_by_the_hotels_clock_said_in_utc(zone, first, begins, ends):
    build = an_inn().record(HotelDescribed("Inn", zone))
    shift = TeamDescribed(BLUE, 2, 120, ("mon", "sun"), True, "09:30", "16:00")
    published(build.record(shift), first, first, slot(first, BLUE, 1, "101"))
    (event,) = read(calendar(build, first, first))
    assert (event["DTSTART"], event["DTEND"]) == (begins, ends)
    assert "TRANSP" not in event


# --- importing again --------------------------------------------------------------------------


def by_uid(content):
    events = {event["UID"]: event for event in read(content)}
    assert len(events) == len(read(content))
    return events


def test_a_later_publication_replaces_the_earlier_ones_events():
    # RFC 5545, 3.8.7.4 and RFC 5546: the same UID with a higher SEQUENCE is the later word.
    build = usual()
    before = by_uid(calendar(build))
    published(build, 2, 6, slot(2, BLUE, 1, "102"), slot(3, BLUE, 1, "104"))
    after = by_uid(calendar(build))
    assert set(before) < set(after)
    changed = {uid for uid in before if after[uid]["DESCRIPTION"] != before[uid]["DESCRIPTION"]}
    assert len(changed) == 1
    for uid, event in before.items():
        later = int(after[uid]["SEQUENCE"]) > int(event["SEQUENCE"])
        assert later == (uid in changed)


def test_what_is_no_more_is_cancelled_under_the_same_uid():
    build = usual()
    before = by_uid(calendar(build))
    published(build, 1, 6, slot(1, BLUE, 1, "101"))
    after = by_uid(calendar(build))
    gone = {uid for uid, event in after.items() if event["STATUS"] == "CANCELLED"}
    assert len(gone) == 2
    assert gone <= set(before)
    assert all(int(after[uid]["SEQUENCE"]) > int(before[uid]["SEQUENCE"]) for uid in gone)


def taken_back(build, entry):
    return build.record(corrects=entry, note="by mistake")


def replaced(before, after):
    """What a calendar holds after both files: of each UID the highest SEQUENCE, the later of two.

    RFC 5546, 2.1.5: a lower one is ignored; of equal ones the later stamp counts.
    """
    held = dict(before)
    for uid, event in after.items():
        if uid not in held or int(event["SEQUENCE"]) >= int(held[uid]["SEQUENCE"]):
            held[uid] = event
    return held


def test_a_publication_taken_back_leaves_calendars_as_the_one_before_it():
    build = usual()
    first = by_uid(calendar(build))
    published(build, 1, 6, slot(1, BLUE, 1, "104"), slot(5, RED, 1, "102"))
    second = by_uid(calendar(build))
    taken_back(build, max(build.house.entries))
    third = by_uid(calendar(build))
    held = replaced(replaced(first, second), third)
    confirmed = {uid: event for uid, event in held.items() if event["STATUS"] == "CONFIRMED"}
    assert {uid: event["DESCRIPTION"] for uid, event in confirmed.items()} == {
        uid: event["DESCRIPTION"] for uid, event in first.items()
    }
    (gone,) = {*second} - {*first}
    assert held[gone]["STATUS"] == "CANCELLED"
    assert all(int(third[uid]["SEQUENCE"]) > int(second[uid]["SEQUENCE"]) for uid in third)


def test_a_calendar_is_told_where_nothing_that_was_published_is_left():
    build = usual()
    entry = max(build.house.entries)
    before = by_uid(calendar(build))
    taken_back(build, entry)
    after = by_uid(calendar(build))
    assert set(after) == set(before)
    assert {event["STATUS"] for event in after.values()} == {"CANCELLED"}
    assert all(int(after[uid]["SEQUENCE"]) > entry for uid in after)
    # Its entry is published anew: what undo and redo write down.
    published(build, 0, 6, slot(1, BLUE, 1, "103"))
    again = by_uid(calendar(build))
    assert all(int(again[uid]["SEQUENCE"]) > int(after[uid]["SEQUENCE"]) for uid in again)
    assert [event["STATUS"] for event in again.values()].count("CONFIRMED") == 1


@pytest.mark.parametrize(
    "fact",
    [
        TeamDescribed(BLUE, 2, 120, ("mon", "tue"), True, "09:30", "16:00"),
        TeamDaysChanged(BLUE, day(1), day(1), 60, "training"),
        HouseDaysClosed(day(1), day(1), "fair"),
        RoomDescribed(RoomNo("103"), "1", "", Side.LEFT, 1, "Double", in_use=False),
        BedDescribed(BedNo("103/B"), RoomNo("103"), "box_spring"),
    ],
)
def test_whatever_changes_a_published_day_raises_its_sequence_and_so_does_taking_it_back(fact):
    # RFC 5545, 3.8.7.4: it is raised with each significant change, of DTSTART among others.
    build = published(an_inn(), 0, 6, slot(1, BLUE, 1, "103"), slot(1, BLUE, 2, "101"))
    published(build, 6, 6, slot(6, RED, 1, "102"))
    (uid, before), (other, unchanged) = by_uid(calendar(build)).items()
    build.record(fact)
    changed = by_uid(calendar(build))
    assert int(changed[uid]["SEQUENCE"]) > int(before["SEQUENCE"])
    assert changed[other] == unchanged
    taken_back(build, max(build.house.entries))
    after = by_uid(calendar(build))
    assert int(after[uid]["SEQUENCE"]) > int(changed[uid]["SEQUENCE"])
    assert after[uid]["DESCRIPTION"] == before["DESCRIPTION"]


def test_the_same_round_makes_the_same_file_and_only_its_stamp_tells_when():
    build = usual()
    later = round_calendar(build.house, told(build), made_at=MADE_AT + timedelta(hours=1))
    assert calendar(build) == calendar(build)
    assert later.replace(b"20260106T090000Z", b"20260106T080000Z") == calendar(build)


def test_two_hotels_do_not_replace_each_others_events():
    one = usual()
    other = published(house().on(9).team(BLUE).room("101").bed("A"), 1, 1, slot(1, BLUE, 1, "101"))
    # A hotel's first entry names it; these two were begun on the same day of the tests.
    entry = replace(other.house.entries[1], recorded_at=moment(9))
    other.house = replace(other.house, entries={**other.house.entries, 1: entry})
    assert not set(by_uid(calendar(one))) & set(by_uid(calendar(other)))


def test_a_draft_is_tentative_and_hides_nothing_that_is_published():
    build = published(an_inn(), 0, 6, slot(1, BLUE, 1, "102"))
    before = by_uid(calendar(build))
    # Of what is written down after it nothing touches the day: its SEQUENCE stays.
    build.record(VisitDeclined(RoomNo("101"), day(0), "maria"))
    draft = Round(day(0), day(6), (slot(1, BLUE, 1, "101"),), {}, is_draft=True)
    drafted = by_uid(round_calendar(build.house, draft, made_at=MADE_AT))
    (tentative,) = drafted.values()
    assert tentative["STATUS"] == "TENTATIVE"
    assert tentative["SUMMARY"].startswith("Draft")
    assert "no team follows it yet" in tentative["DESCRIPTION"]
    assert "What is published does not replace it." in tentative["DESCRIPTION"]
    held = replaced(replaced(before, drafted), by_uid(calendar(build)))
    assert held == {**before, **drafted}
    # Published after the draft: what teams follow stands as last published.
    published(build, 0, 6, slot(1, BLUE, 1, "101"))
    after = by_uid(calendar(build))
    assert replaced(held, after) == {**after, **drafted}


def test_a_later_draft_replaces_the_one_before_it():
    build = an_inn()
    drafts = []
    for room in ("101", "102"):
        draft = Round(day(0), day(6), (slot(1, BLUE, 1, room),), {}, is_draft=True)
        drafts.append(by_uid(round_calendar(build.house, draft, made_at=MADE_AT)))
        build.record(VisitDeclined(RoomNo("101"), day(0), "maria"))
    first, second = drafts
    assert replaced(first, second) == second


# --- what it never says, and files --------------------------------------------------------------


def test_no_case_no_sign_and_no_word_of_being_free_stands_there():
    build = usual().stays(("103", 0, 1))
    content = calendar(build)
    for word in ("2026-007", "insect", "sighting", "bed bug", "free of"):
        assert word not in content.decode("utf-8").lower()
    events = read(content)
    booking = build.house.stays[0].booking
    assert all(booking not in event["SUMMARY"] + event["DESCRIPTION"] for event in events)
    assert all("A clean look does not prove a clean room." in e["DESCRIPTION"] for e in events)
    assert all("Two people stand a mattress" in e["DESCRIPTION"] for e in events)


def test_one_file_a_team_or_one_for_all(tmp_path):
    build = usual()
    write_round_calendar(build.house, told(build), tmp_path / "all.ics", made_at=MADE_AT)
    files = write_team_calendars(build.house, told(build), tmp_path / "teams", made_at=MADE_AT)
    assert [file.name for file in files] == [
        "round-2026-01-05-blue.ics",
        "round-2026-01-05-früh--spät----team.ics",
    ]
    whole = by_uid((tmp_path / "all.ics").read_bytes())
    parts = [by_uid(file.read_bytes()) for file in files]
    assert whole == {**parts[0], **parts[1]}
    assert not set(parts[0]) & set(parts[1])
    assert sorted(p.name for p in tmp_path.iterdir()) == ["all.ics", "teams"]


@pytest.mark.parametrize(
    ("name", "team", "code"),
    [
        ("round.txt", "", "not_a_calendar_name"),
        ("missing/round.ics", "", "no_such_folder"),
        ("round.ics", "Green", "unknown_team"),
    ],
)
def test_what_can_not_be_written_is_refused_before_any_work(tmp_path, name, team, code):
    build = usual()
    with pytest.raises(Refusal, match=code):
        write_round_calendar(build.house, told(build), tmp_path / name, made_at=MADE_AT, team=team)
    assert list(tmp_path.iterdir()) == []


def test_days_without_rooms_make_no_calendar(tmp_path):
    build = usual()
    with pytest.raises(Refusal, match="no_round_on_days"):
        calendar(build, 5, 6)
    with pytest.raises(Refusal, match="no_round_on_days"):
        write_team_calendars(build.house, told(build, 5, 6), tmp_path / "x", made_at=MADE_AT)
    assert not (tmp_path / "x").exists()
