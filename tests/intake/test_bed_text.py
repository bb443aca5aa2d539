from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.intake.bed_text import BedsSaid, beds_said
from hotelwatch.intake.words import shipped_words
from tests.build import rules

WORDS = shipped_words()


def said(text):
    return beds_said(text, WORDS)


@pytest.mark.parametrize(
    ("text", "counts"),
    [
        ("2 box spring, 1 sofa bed", {"box_spring": 2, "sofa_bed": 1}),
        ("queen box spring x2", {"box_spring": 2}),
        ("2 x queen box spring", {"box_spring": 2}),
        ("2× King Box-Spring + crib", {"box_spring": 2, "crib": 1}),
        ("box springs (2)", {"box_spring": 2}),
        ("Box spring 2", {"box_spring": 2}),
        ("2 box spring 1 sofa bed", {"box_spring": 2, "sofa_bed": 1}),
        ("1 twin box spring; 1 queen box spring", {"box_spring": 2}),
        ("platform bed and cot", {"platform": 1, "crib": 1}),
        ("3 bunk beds", {"bunk": 3}),
        ("box spring 90 x 200", {"box_spring": 1}),
        ("2 box spring 160x200 cm", {"box_spring": 2}),
        ("box spring\n1 fold-up bed", {"box_spring": 1, "rollaway": 1}),
        ("slatted beds x 4", {"slats": 4}),
        ("0 crib, 1 divan", {"crib": 0, "divan": 1}),
        ("-", {}),
        ("", {}),
        ("none", {}),
    ],
)
def test_beds_are_read_from_what_people_write(text, counts):
    assert said(text) == BedsSaid(counts=tuple(counts.items()))


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("2 water bed", BedsSaid(unknown="2 water bed")),
        ("box spring, hammock", BedsSaid(unknown="hammock")),
        ("2 queen", BedsSaid(without_kind="2 queen")),
        ("King", BedsSaid(without_kind="King")),
        ("2 box spring 3", BedsSaid(unclear="2 box spring 3")),
        ("3", BedsSaid(bare_count=3)),
    ],
)
def test_what_is_not_clear_about_beds_is_told_and_never_guessed(text, wrong):
    assert said(text) == wrong


def test_every_kind_of_bed_has_words_and_no_word_means_another_kind():
    assert set(WORDS.beds.values()) == set(rules().bed_kinds)
    for word, kind in WORDS.beds.items():
        assert said(word).counts == ((kind, 1),)


@given(
    st.dictionaries(st.sampled_from(sorted(WORDS.beds.items())), st.integers(1, 60), min_size=1),
    st.sampled_from([", ", "; ", " + ", " & ", "\n", " and ", " / "]),
    st.sampled_from(["{n} {bed}", "{n} x {bed}", "{n}x {bed}", "{bed} x{n}", "{bed} ({n})"]),
)
def test_counts_of_beds_add_up_however_they_are_written(beds, separator, form):
    text = separator.join(form.format(n=n, bed=word) for (word, _), n in beds.items())
    totals = {}
    for (_, kind), number in beds.items():
        totals[kind] = totals.get(kind, 0) + number
    assert dict(said(text).counts) == totals
