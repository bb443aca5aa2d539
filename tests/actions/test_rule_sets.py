"""A hotel's own set of local rules: loaded, kept when its file is gone, chosen, compared."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from hashlib import sha256

import pytest

from hotelwatch import paths
from hotelwatch.actions.open_hotel import open_hotel
from hotelwatch.actions.rule_sets import (
    LARGEST_BYTES,
    choose_profile,
    compare_rules,
    judged_rules,
    load_rules,
    look_into_rules,
    write_template,
)
from hotelwatch.core.local_rules.rows import Verdict
from hotelwatch.core.problems import InputRefused, Refusal
from hotelwatch.core.rule_facts import RulesCompared, RuleSetKept
from tests.build import rules
from tests.core.rule_clauses import stale_clauses


@pytest.fixture
def source(tmp_path):
    return write_template(tmp_path / "town.toml")


def test_the_template_is_loaded_whole_and_stays_when_its_file_is_gone(hotel, clock, source):
    digest = sha256(source.read_bytes()).hexdigest()
    reading = load_rules(hotel, source)
    choose_profile(hotel, "our_town")
    source.unlink()
    path = hotel.path
    hotel.close()
    again = open_hotel(path, rules(), clock=clock, by="maria")
    kept = again.house.profile
    assert (kept.key, kept.file_name, kept.sha256) == ("our_town", "town.toml", digest)
    assert kept.clauses == reading.sets[0].clauses
    assert kept.is_own
    again.close()


def test_what_is_wrong_is_said_whole_and_nothing_is_written(hotel, source):
    text = source.read_text("utf-8").replace('hold = "inspect_then_sell"', 'hold = "sell"')
    source.write_text(text.replace("years = 2", "years = 0"), "utf-8")
    last = max(hotel.house.entries)
    with pytest.raises(InputRefused) as refused:
        load_rules(hotel, source)
    assert [(p.column, p.code) for p in refused.value.problems] == [
        ("hold", "rules_unknown_code"),
        ("years", "rules_out_of_range"),
    ]
    assert max(hotel.house.entries) == last


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"\xff\xfe", "rules_not_utf8"),
        ((paths.resources() / "profiles.toml").read_bytes(), "rules_key_shipped"),
        (b"", "rules_no_set"),
    ],
)
def test_a_file_that_is_none_is_refused(hotel, tmp_path, content, code):
    path = tmp_path / "odd.toml"
    path.write_bytes(content)
    assert code in {problem.code for problem in look_into_rules(hotel, path).problems}
    with pytest.raises(InputRefused):
        load_rules(hotel, path)


def test_files_too_large_or_not_there_and_words_kept_already_are_refused(hotel, tmp_path, source):
    large = tmp_path / "large.toml"
    large.write_bytes(b"#" * (LARGEST_BYTES + 1))
    load_rules(hotel, source)
    for path, code in (
        (large, "rules_file_too_large"),
        (tmp_path / "none.toml", "no_such_file"),
        (source, "rules_kept_already"),
    ):
        with pytest.raises(Refusal) as refused:
            load_rules(hotel, path)
        assert refused.value.code == code
    with pytest.raises(Refusal, match="file_exists"):
        write_template(source)


def test_a_file_saved_with_a_mark_of_its_byte_order_is_read(hotel, source):
    source.write_bytes(b"\xef\xbb\xbf" + source.read_bytes())
    assert [one.key for one in load_rules(hotel, source).sets] == ["our_town"]


def test_a_set_that_ships_is_kept_in_the_words_in_which_it_was_chosen(hotel, clock):
    choose_profile(hotel, "kansas", compared_by=" M. Ode ")
    profile = hotel.house.profile
    assert not stale_clauses(hotel.house, profile, hotel.today())
    path = hotel.path
    hotel.close()
    shipped = rules()
    later = {**shipped.profiles, "kansas": replace(shipped.profiles["kansas"], clauses=())}
    again = open_hotel(path, replace(shipped, profiles=later), clock=clock, by="maria")
    assert again.house.profile.clauses == profile.clauses
    choose_profile(again, "kansas")
    assert again.house.profile.clauses == ()
    assert len(again.house.all_of(RuleSetKept)) == 2
    again.close()


def test_a_comparison_is_refused_without_name_of_no_clause_and_of_a_day_to_come(hotel):
    good = RulesCompared("kansas", "vacant", "M. Ode", date(2026, 3, 9))
    for wrong, code in (
        (replace(good, by=" "), "comparison_needs_name"),
        (replace(good, clause="none"), "unknown_clause"),
        (replace(good, rules="none"), "unknown_profile"),
        (replace(good, on=date(2026, 3, 10)), "day_to_come"),
    ):
        with pytest.raises(Refusal) as refused:
            compare_rules(hotel, wrong)
        assert refused.value.code == code
    compare_rules(hotel, good)
    profile = hotel.house.rule_sets["kansas"]
    stale = [one.clause for one in stale_clauses(hotel.house, profile, hotel.today())]
    assert len(stale) == len(profile.clauses) - 1
    assert "vacant" not in stale
    choose_profile(hotel, "kansas")
    kept = hotel.house.profile
    assert [one.clause for one in stale_clauses(hotel.house, kept, hotel.today())] == stale


def test_a_month_is_judged_through_a_connection_of_its_own(hotel, clock, source):
    load_rules(hotel, source)
    clock.moment += timedelta(hours=1)
    judged = judged_rules(hotel.path, rules(), "2026-03", clock.moment, "our_town")
    found = {one.clause.clause: one.verdict for one in judged.judgements}
    assert found == {
        "tell": Verdict.NOT_ARISEN,
        "close": Verdict.NOT_ARISEN,
        "record": Verdict.NOT_ARISEN,
        "keep": Verdict.MET,
        "placard": Verdict.CANNOT_TELL,
    }
    assert judged_rules(hotel.path, rules(), "2026-03", clock.moment).rules == "house"
