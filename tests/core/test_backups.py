from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.backups import Backup, Counted, Keeping, is_due, loss_of, to_prune
from hotelwatch.core.records import Entry
from tests.build import day, moment

NOW = datetime(2026, 11, 26, 12, tzinfo=UTC)
VIENNA = ZoneInfo("Europe/Vienna")
KEPT = Keeping(2, 31, 7)


def backup(made_at, name="b", *, sound=True):
    return Backup(f"{name}{made_at:%Y%m%d%H%M%S}", made_at, 1, "0" * 12, sound)


def days_back(*days):
    return [backup(NOW - timedelta(days=number)) for number in days]


def gone(backups, kept=KEPT):
    return to_prune(backups, now=NOW, zone=UTC, kept=kept)


def test_all_of_two_days_are_kept():
    assert gone(days_back(0, 0.1, 0.5, 1.4, 1.9, 2)) == ()


def test_one_a_day_is_kept_for_a_month_the_last_of_it():
    early, late = backup(NOW - timedelta(days=9, hours=5)), backup(NOW - timedelta(days=9))
    assert gone([early, late, *days_back(0)]) == (early,)


def test_one_a_month_is_kept_for_years_the_last_of_it():
    first = backup(datetime(2025, 3, 1, tzinfo=UTC))
    last = backup(datetime(2025, 3, 31, tzinfo=UTC))
    assert gone([first, last, *days_back(0)]) == (first,)


def test_what_is_older_than_all_years_goes():
    old = backup(NOW - timedelta(days=366 * 7 + 1))
    assert gone([old, *days_back(0)]) == (old,)
    assert gone([old]) == (), "but not where it is the last one"


def test_a_damaged_one_takes_no_sound_ones_place():
    sound = backup(NOW - timedelta(days=9, hours=5))
    damaged = backup(NOW - timedelta(days=9), sound=False)
    assert gone([sound, damaged, *days_back(0)]) == (damaged,)
    ancient = backup(NOW - timedelta(days=9000))
    assert ancient not in gone([ancient, backup(NOW, sound=False)])


def test_a_day_is_the_hotels_day():
    evening = backup(datetime(2026, 11, 10, 22, 30, tzinfo=UTC))
    night = backup(datetime(2026, 11, 10, 23, 30, tzinfo=UTC))
    both = [evening, night, *days_back(0)]
    assert to_prune(both, now=NOW, zone=UTC, kept=KEPT) == (evening,)
    assert to_prune(both, now=NOW, zone=VIENNA, kept=KEPT) == ()


def test_one_from_a_day_to_come_stays():
    assert gone([*days_back(-400, -399), *days_back(0)]) == ()


MOMENTS = st.integers(-40 * 24, 9 * 366 * 24).map(lambda hours: NOW - timedelta(hours=hours))
BACKUPS = st.lists(
    st.builds(backup, MOMENTS, st.sampled_from("ab"), sound=st.booleans()),
    max_size=40,
    unique_by=lambda b: b.name,
)


@given(BACKUPS)
def test_the_rule_as_a_person_would_go_through_a_drawer(backups):
    """An independent reading of the rule, one backup at a time."""
    found = set(gone(backups))
    sound = [b for b in backups if b.is_sound]
    if sound:
        assert max(sound, key=lambda b: (b.made_at, b.name)) not in found
    for one in backups:
        age = (NOW - one.made_at) / timedelta(days=1)
        peers = [b for b in backups if b.made_at.date() == one.made_at.date()]
        if age <= 2 or (age <= 31 and peers == [one]):
            assert one not in found
        elif age > 366 * 7 and len([b for b in sound if b.made_at > one.made_at]):
            assert one in found
    for of_peers in ("%Y-%m-%d", "%Y-%m"):
        for label in {f"{b.made_at:{of_peers}}" for b in backups}:
            peers = [b for b in backups if f"{b.made_at:{of_peers}}" == label]
            limit = 31 if of_peers.endswith("d") else 366 * 7
            if all((NOW - b.made_at) / timedelta(days=1) <= limit for b in peers):
                stays = [b for b in peers if b not in found]
                assert stays, "each day and each month within its time keeps one"
                assert any(b.is_sound for b in stays) or not any(b.is_sound for b in peers)


@given(BACKUPS)
def test_pruning_again_at_once_deletes_nothing_more(backups):
    rest = [b for b in backups if b not in gone(backups)]
    assert gone(rest) == ()


def entry(number, days, action):
    return Entry(number, moment(days), "anna", action, "", None, "test", f"digest {number}")


def test_a_loss_is_counted_by_day_and_action_the_latest_day_first():
    told = loss_of([entry(4, 0, "x"), entry(5, 1, "y"), entry(6, 1, "x"), entry(7, 1, "x")], UTC)
    assert told.counted == (
        Counted(day(1), "x", 2),
        Counted(day(1), "y", 1),
        Counted(day(0), "x", 1),
    )
    assert (told.entries, told.last_entry, told.last_digest) == (4, 7, "digest 7")
    assert loss_of([], UTC).counted == ()


def test_a_backup_is_due_once_a_day_and_after_the_clock_went_back():
    assert is_due(None, NOW, UTC)
    assert not is_due(NOW - timedelta(hours=3), NOW, UTC)
    assert is_due(NOW - timedelta(hours=13), NOW, UTC)
    assert is_due(NOW + timedelta(days=30), NOW, UTC)
