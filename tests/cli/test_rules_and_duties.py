"""House rules and what is next, by command."""

from __future__ import annotations

from datetime import timedelta

import pytest

from hotelwatch.wording import language

CASE = "2026-001"


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def test_a_local_set_and_single_choices_are_chosen_and_shown(hotel):
    assert "House rules" in hotel("rules", hotel.file)
    hotel("choose-rules", hotel.file, "kansas", "--checked-by", "M. Ode", "--by", "maria")
    said = hotel("rules", hotel.file)
    assert "within 1 business day" in said
    assert "K.A.R. 28-36-77(p)" in said
    assert "1 room" in said
    hotel("choose", hotel.file, "ring_radius", "2")
    assert "2 rooms" in hotel("rules", hotel.file)
    hotel("choose", hotel.file, "ring_kinds", "above below")
    assert "Above and Below" in hotel("rules", hotel.file)
    assert "alabama" in hotel("rules", hotel.file, "--sets")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("choose-rules", "atlantis"), "house"),
        (("choose", "ring_radius", "9"), "Choose from: 1, 2"),
        (("choose", "ring_radius", "1 2"), "Choose from: 1, 2"),
        (("choose", "colour", "red"), "ring_kinds"),
        (("figure", "specimen_hours", 1000, "--reason", "slow"), "from 24 to 120 hours"),
        (("figure", "specimen_hours", 48), "reason"),
        (("figure", "nonsense", 1, "--reason", "x"), "no figure nonsense"),
        (("holiday", "2026-12-25"), "no name"),
    ],
)
def test_a_choice_that_is_none_is_refused_with_those_there_are(hotel, words, said):
    assert said in hotel(words[0], hotel.file, *words[1:], exit_code=1)


def test_the_hotels_own_figure_counts_until_it_is_taken_back(hotel):
    hotel("figure", hotel.file, "specimen_hours", 24, "--reason", "our expert comes daily")
    assert "Chosen by this hotel" in hotel("rules", hotel.file)
    hotel("sighting", hotel.file, "102", "live_insect", "--seen-by", "Ana")
    row = next(line for line in hotel("next", hotel.file).splitlines() if "judge_specimen" in line)
    assert "Tue 10 Mar 2026" in row
    hotel("figure", hotel.file, "specimen_hours")
    row = next(line for line in hotel("next", hotel.file).splitlines() if "judge_specimen" in line)
    assert "Thu 12 Mar 2026" in row
    assert "No figure of the hotel's own." in hotel("rules", hotel.file)


def test_what_is_next_says_who_and_by_when_and_the_overdue_climb(hotel):
    assert "No case is open." in hotel("next", hotel.file)
    hotel("sighting", hotel.file, "102", "bites_reported", "--seen-by", "Ana")
    said = hotel("next", hotel.file)
    assert "Answer the guest who told of 102" in said
    assert "Front desk" in said
    hotel("owner", hotel.file, CASE, "answer_guest", "Ines")
    assert "Ines" in hotel("next", hotel.file)
    assert "no such duty" in hotel("owner", hotel.file, CASE, "fly", "Ines", exit_code=1)
    hotel.now += timedelta(days=2)
    first = hotel("next", hotel.file).splitlines()[1]
    assert first.split()[1] == "Late"
    assert "guest" in hotel("told", hotel.file, CASE, "answer_guest", " ", exit_code=1)
    hotel("told", hotel.file, CASE, "answer_guest", "guest of 102")
    assert "Answer the guest" not in hotel("next", hotel.file)


def test_a_text_is_ready_and_keeps_suspected_and_confirmed_apart(hotel):
    hotel("choose-rules", hotel.file, "kansas")
    hotel("sighting", hotel.file, "102", "live_insect", "--seen-by", "Ana")
    said = hotel("notice-text", hotel.file, CASE, "tell_authority")
    assert "suspected" in said
    assert "confirmed by" not in said
    hotel(
        "judge",
        hotel.file,
        CASE,
        "confirmed",
        "--judged-by",
        "Dr. Vey",
        "--competence",
        "entomologist",
    )
    said = hotel("notice-text", hotel.file, CASE, "tell_authority")
    assert "confirmed by Dr. Vey (entomologist)" in said
    assert "suspected" not in said
    guest = hotel("notice-text", hotel.file, CASE, "answer_guest")
    assert "doctor" in guest


def test_a_set_of_ones_own_is_written_loaded_chosen_compared_and_judged(hotel):
    source = hotel.folder / "town.toml"
    assert "town.toml" in hotel("rules-template", source)
    assert "already a file" in hotel("rules-template", source, exit_code=1)
    assert "4 clauses" not in hotel("load-rules", hotel.file, source)
    assert "this hotel's own, from town.toml" in hotel("rules", hotel.file, "--sets")
    hotel("choose-rules", hotel.file, "our_town")
    said = hotel("rules", hotel.file)
    assert "Town code, 12-4 (b)" in said
    assert "NOBODY has compared it" in said
    assert "never legal advice" in said
    hotel("compare-rules", hotel.file, "our_town", "tell", "--checked-by", "M. Ode")
    assert said.count("NOBODY") - hotel("rules", hotel.file).count("NOBODY") == 1
    hotel("sighting", hotel.file, "102", "live_insect", "--seen-by", "Ana")
    hotel.now += timedelta(days=3)
    judged = hotel("rules", hotel.file, "--month", "2026-03")
    assert "tell: NOT met" in judged
    assert f"case {CASE}, room 102: Tell the authority: missing (due Wed 11 Mar 2026" in judged
    assert "placard: Look yourself" in judged
    kansas = hotel("rules", hotel.file, "--set", "kansas", "--month", "2026-03")
    assert "Kansas, lodging (text of 2008)" in kansas
    assert "our_town" in hotel("rules", hotel.file, "--set", "atlantis", exit_code=1)


def test_a_set_with_mistakes_is_refused_with_line_and_mend(hotel):
    wrong = hotel.table("wrong.toml", "[ours]\nname = 3\n")
    said = hotel("load-rules", hotel.file, wrong, exit_code=1)
    assert "wrong.toml, [ours], row 2, column “name”" in said
    assert "a text in quotes" in said
    assert "“hold” is not said" in said
    assert "Nothing was written down." in said
