from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.core.problems import Refusal
from hotelwatch.intake.cells import tidy
from hotelwatch.intake.csv_grid import csv_grid, decoded, sniffed
from hotelwatch.intake.grids import FileCode
from tests.intake.files import known

NONE_KNOWN = known()


def rows_of(data, is_known=NONE_KNOWN):
    if isinstance(data, str):
        data = data.encode()
    grid = csv_grid("t.csv", data, is_known)
    return [[cells.get(c, "") for c in range(1, max(cells) + 1)] for cells in grid.rows.values()]


THREE = [["aaa", "bbb", "ccc"], ["zzz", "yyy", "xxx"]]


# RFC 4180, section 2, rules 1 to 7; its own examples of fields.
@pytest.mark.parametrize(
    ("rule", "text", "rows"),
    [
        (1, "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", THREE),
        (2, "aaa,bbb,ccc\r\nzzz,yyy,xxx", THREE),
        (5, '"aaa","bbb","ccc"\r\nzzz,yyy,xxx', THREE),
        (
            6,
            '"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx',
            [["aaa", "b\nbb", "ccc"], ["zzz", "yyy", "xxx"]],
        ),
        (6, '"a,a",bbb\r\nzzz,yyy', [["a,a", "bbb"], ["zzz", "yyy"]]),
        (7, '"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]]),
    ],
)
def test_the_rules_of_rfc_4180_hold(rule, text, rows):
    assert rule in range(1, 8)
    assert rows_of(text) == rows


def test_spaces_around_a_field_are_dropped_against_rule_4_of_rfc_4180():
    # Rule 4 keeps them; a room's label never has any, and messy lists do.
    assert rows_of("aaa , bbb\r\n") == [["aaa", "bbb"]]


def test_a_row_is_a_record_however_many_lines_it_takes():
    grid = csv_grid("t.csv", b'a,b\r\n"1\r\n2",x\r\n\r\nc,d\r\n', NONE_KNOWN)
    assert list(grid.rows) == [1, 2, 4]


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_the_separator_is_found(separator):
    text = "\n".join(separator.join(row) for row in (["Room", "Floor"], ["1", "4,5"], ["2", "x"]))
    if separator == ",":
        text = text.replace("4,5", '"4,5"')
    assert sniffed(text, known("Room", "Floor")) == separator


def test_known_headings_decide_where_the_rows_alone_mislead():
    text = "Room;Floor;Beds\n1;1;2 box spring, 1 crib, x\n2;1;1 box spring, 1 crib, y\n"
    assert sniffed(text, known("Room", "Floor")) == ";"


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"]
)
def test_the_encoding_is_found(encoding):
    text = "Room,Floor\r\nZürich café,1\r\n"
    assert decoded("t.csv", text.encode(encoding)).endswith(text)
    assert rows_of(text.encode(encoding))[1] == ["Zürich café", "1"]


def test_zeros_kept_by_a_sign_or_a_formula_of_text_are_kept():
    assert rows_of('="0101","\'0102","=""0103"""\n') == [["0101", "0102", "0103"]]


def test_a_quote_that_never_closes_is_named_with_its_row():
    with pytest.raises(Refusal) as refused:
        rows_of('a,b\r\n1,2\r\n3,"4\r\n5,6\r\n')
    assert (refused.value.code, refused.value.values["row"]) == ("unclosed_quote", "3")


def test_a_quote_within_a_field_is_part_of_it():
    assert rows_of('12" wide,b\r\nc,"d"e\r\n') == [['12" wide', "b"], ["c", "de"]]


FIELD = st.text(st.characters(codec="utf-8", exclude_characters="\0\r"), max_size=12).filter(
    # tidy() maps what it may map; a sign that guards a zero is tested above.
    lambda text: not text.startswith(("=", "'")) and not tidy(text).startswith(("=", "'", "<"))
)


@given(
    st.lists(st.lists(FIELD, min_size=3, max_size=3), min_size=1, max_size=6),
    st.sampled_from([",", ";", "\t", "|"]),
)
def test_what_pythons_writer_quotes_is_read_back(rows, separator):
    rows = [["Room", "Floor", "Beds"], *rows]
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=separator).writerows(rows)
    grid = csv_grid("t.csv", text.getvalue().encode(), known("Room", "Floor", "Beds"))
    for number, row in enumerate(rows, 1):
        cells = grid.rows.get(number, {})
        assert [cells.get(column, "") for column in (1, 2, 3)] == [tidy(field) for field in row]


def test_one_broken_byte_does_not_garble_every_name():
    sound = "Room,Wing\n101,Süd\n102,Süd\n103,Öst\n".encode()
    broken = sound.replace("Öst".encode(), b"\xc3st")
    with pytest.raises(Refusal) as caught:
        csv_grid("f.csv", broken, known("Room", "Wing"))
    assert caught.value.code == FileCode.DAMAGED
    old = "Room,Wing\n101,Süd\n102,Süd\n".encode("cp1252")
    assert csv_grid("f.csv", old, known("Room", "Wing")).rows[2][2] == "Süd"
