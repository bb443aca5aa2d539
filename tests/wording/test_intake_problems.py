from __future__ import annotations

import re
import string
from pathlib import Path

import pytest

from hotelwatch.intake import codes, grids
from hotelwatch.intake.codes import RosterCode, StaysCode, TableCode
from hotelwatch.intake.grids import FileCode
from hotelwatch.intake.roster_file import ROSTER_FIELDS
from hotelwatch.intake.stays_file import STAYS_FIELDS
from hotelwatch.wording.intake_problems import FIELDS, INTAKE_PROBLEMS, field_name

ALL = [*FileCode, *TableCode, *RosterCode, *StaysCode]


def documented():
    """The values that each code's docstring names."""
    values = {}
    for module in (codes, grids):
        text = Path(module.__file__).read_text(encoding="utf-8")
        for code, said in re.findall(r'    [A-Z_]+ = "(\w+)"\n    """(.*?)"""', text, re.DOTALL):
            plain = re.sub(r"\(.*?\)", "", said.split(":")[0].split(";")[0], flags=re.DOTALL)
            values[code] = {word.strip() for word in plain.split(",") if word.strip()}
    return values


def places(sentence):
    return {name for _, name, _, _ in string.Formatter().parse(sentence) if name}


def test_every_code_of_intake_has_its_sentences_and_no_sentence_is_left_over():
    assert len(set(ALL)) == len(ALL)
    assert set(INTAKE_PROBLEMS) == {str(code) for code in ALL}


@pytest.mark.parametrize("code", ALL)
def test_sentences_name_only_values_that_come_with_the_code(code):
    what, mend = INTAKE_PROBLEMS[code]
    assert what.endswith(".")
    assert mend.endswith(".")
    assert places(what) | places(mend) <= documented()[code]


def test_every_field_has_a_name():
    assert set(FIELDS) == {*ROSTER_FIELDS, *STAYS_FIELDS}
    assert field_name("count_of_crib") != "count_of_crib"
    assert field_name("beds") == "beds"
