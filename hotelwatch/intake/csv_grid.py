"""Comma-separated text (RFC 4180) and its relatives, as a grid."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections import Counter
from collections.abc import Callable

from hotelwatch.core.problems import Refusal
from hotelwatch.intake.cells import Cell, tidy
from hotelwatch.intake.grids import MOST_ROWS, FileCode, Grid, gathered, too_many

SEPARATORS = (",", ";", "\t", "|")
SAMPLE_ROWS = 60
SAMPLE_SIGNS = 200_000
LONGEST_FIELD = 1_000_000
_UTF_16_LE, _UTF_16_BE = "utf-16-le", "utf-16-be"
_NO_SIGN = "\ufffd"
"""What stands where bytes are no sign."""
_AS_TEXT = re.compile(r'="([^"]*)"|\'(\d.*)', re.DOTALL)


def csv_grid(file: str, data: bytes, is_known: Callable[[str], bool]) -> Grid:
    """The grid of a text file; a row is a record, as a spreadsheet program numbers it.

    The separator is the one that shows the most known headings, then the one that
    cuts the most rows into the same number of fields.
    """
    text = decoded(file, data)
    if text.lstrip()[:1] == "<":
        raise Refusal(FileCode.UNKNOWN, file=file)
    separator = sniffed(text, is_known)
    records = _records(file, text, separator)
    rows: list[tuple[int, dict[int, Cell]]] = [
        (number, {column: _field(field) for column, field in enumerate(record, 1)})
        for number, record in enumerate(records, 1)
    ]
    return gathered(file, "", rows)


def decoded(file: str, data: bytes) -> str:
    """The text of a file: by its byte order mark, else UTF-8, UTF-16 by its zeros, cp1252."""
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return _strictly(file, data, "utf-16")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = ""
    if text and "\0" not in text:
        return text
    start = data[:4000]
    for encoding, zeros in ((_UTF_16_LE, start[1::2]), (_UTF_16_BE, start[0::2])):
        if zeros and zeros.count(0) * 2 > len(zeros):
            return _strictly(file, data, encoding)
    if b"\0" in data or _is_broken_utf8(data):
        raise Refusal(FileCode.UNKNOWN if b"\0" in data else FileCode.DAMAGED, file=file)
    return _strictly(file, data, "cp1252")


def _is_broken_utf8(data: bytes) -> bool:
    """Whether the first sign beyond ASCII is right as UTF-8: then all of it was that once.

    Read as cp1252, one broken byte further down would garble every name in the file.
    """
    read = data.decode("utf-8", errors="replace")
    first = next((sign for sign in read if not sign.isascii()), _NO_SIGN)
    return first != _NO_SIGN


def _strictly(file: str, data: bytes, encoding: str) -> str:
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError as error:
        raise Refusal(FileCode.DAMAGED, file=file) from error
    if "\0" in text:
        raise Refusal(FileCode.UNKNOWN, file=file)
    return text


def sniffed(text: str, is_known: Callable[[str], bool]) -> str:
    """The separator: , ; tab or |."""
    sample = text[:SAMPLE_SIGNS]
    return max(SEPARATORS, key=lambda separator: _score(sample, separator, is_known))


def _score(sample: str, separator: str, is_known: Callable[[str], bool]) -> tuple[int, int, int]:
    rows: list[list[str]] = []
    try:
        for row in csv.reader(io.StringIO(sample, newline=""), delimiter=separator):
            rows.append(row)
            if len(rows) == SAMPLE_ROWS:
                break
    except csv.Error:
        pass
    known = max((len({f for f in row if is_known(f)}) for row in rows), default=0)
    widths = Counter(len(row) for row in rows if len(row) > 1)
    width, times = max(widths.items(), key=lambda item: (item[1], item[0]), default=(0, 0))
    return known, times, width


def _records(file: str, text: str, separator: str) -> list[list[str]]:
    csv.field_size_limit(LONGEST_FIELD)
    try:
        return _parsed(file, text, separator, strict=True)
    except csv.Error as error:
        if "unexpected end" in str(error):
            row = _row_of_open_quote(text, separator)
            raise Refusal(FileCode.UNCLOSED_QUOTE, file=file, row=str(row)) from error
    try:
        return _parsed(file, text, separator, strict=False)
    except csv.Error as error:
        raise Refusal(FileCode.DAMAGED, file=file) from error


def _parsed(file: str, text: str, separator: str, *, strict: bool) -> list[list[str]]:
    records: list[list[str]] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=strict)
    for record in reader:
        records.append(record)
        if len(records) > MOST_ROWS:
            raise too_many(FileCode.TOO_MANY_ROWS, file, "", MOST_ROWS)
    return records


def _row_of_open_quote(text: str, separator: str) -> int:
    """The record that starts a quoted field and never ends it: the last one."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    try:
        return sum(1 for _ in reader)
    except csv.Error:
        return reader.line_num


def _field(field: str) -> str:
    field = tidy(field)
    # Some programs write ="0101" or '0101 so that a spreadsheet keeps the zero.
    kept = _AS_TEXT.fullmatch(field)
    return (kept.group(1) or kept.group(2) or "") if kept else field
