"""Every message of teams' sheets in every language: there, whole, with its places and plurals.

Held against Unicode's locale data (CLDR) as Babel ships it, which no translator here wrote.
"""

from __future__ import annotations

import re
import string
import subprocess
import sys
from pathlib import Path

import pytest
from babel import Locale
from babel.lists import format_list
from babel.messages.extract import extract_from_dir
from babel.messages.frontend import parse_mapping_cfg
from babel.messages.pofile import read_po

from hotelwatch import paths
from hotelwatch.wording import language
from hotelwatch.wording.languages import language_name, language_note
from tests.wording.in_books import KEYWORDS, said_in_books

ROOT = Path(__file__).parents[2]
FOLDER = ROOT / "resources" / "translations"
CODES = tuple(code for code in language.available() if code != "en")
COUNTED_ALONE = {"zero", "one", "two"}
"""Plural forms that may say their number in a word: "شخصان"."""


def catalog_of(code):
    with (FOLDER / code / "LC_MESSAGES" / "hotelwatch.po").open("rb") as file:
        return read_po(file, locale=code, abort_invalid=True)


def messages_of(catalog):
    return {row.id: row for row in catalog if row.id}


def template():
    with (FOLDER / "hotelwatch.pot").open("rb") as file:
        return messages_of(read_po(file))


def fields_of(message):
    return {name for _, name, _, _ in string.Formatter().parse(message) if name}


def test_there_are_six_languages_or_more_one_from_right_to_left_and_two_scripts_of_their_own():
    assert {"es", "pt", "fr", "pl", "ar", "zh_Hans"} <= set(CODES)
    assert Locale.parse("ar").character_order == "right-to-left"
    assert not list(FOLDER.rglob("*.mo"))


def test_the_direction_of_each_language_is_that_of_unicodes_locale_data():
    for code in CODES:
        with language.speaking(code):
            order = Locale.parse(code).character_order
            assert language.is_right_to_left() == (order == "right-to-left")


def test_the_template_has_what_the_modules_of_sheets_say_now():
    with (FOLDER / "babel.cfg").open() as file:
        methods, options = parse_mapping_cfg(file)
    rows = extract_from_dir(
        str(ROOT / "hotelwatch"),
        [(pattern.removeprefix("hotelwatch/"), method) for pattern, method in methods],
        {pattern.removeprefix("hotelwatch/"): given for pattern, given in options.items()},
        KEYWORDS,
    )
    said = {row[2] for row in rows}
    assert said == set(template())


@pytest.mark.parametrize("code", CODES)
def test_every_message_is_translated_and_none_is_a_guess(code):
    catalog = catalog_of(code)
    said = messages_of(catalog)
    assert set(said) == set(template())
    assert not catalog.obsolete
    for row in said.values():
        forms = (row.string,) if isinstance(row.string, str) else row.string
        assert all(form.strip() for form in forms), row.id
        assert not row.fuzzy, row.id


@pytest.mark.parametrize("code", CODES)
def test_long_messages_are_not_left_in_english(code):
    for row in messages_of(catalog_of(code)).values():
        if isinstance(row.id, str) and len(re.sub(r"\{[^}]*\}", "", row.id).split()) > 2:
            assert row.string != row.id


@pytest.mark.parametrize("code", CODES)
def test_the_places_of_each_message_are_those_of_the_english_one(code):
    for row in messages_of(catalog_of(code)).values():
        if isinstance(row.id, str):
            assert fields_of(row.string) == fields_of(row.id), row.id


@pytest.mark.parametrize("code", CODES)
def test_plural_forms_are_whole_and_chosen_as_unicodes_locale_data_does(code):
    catalog, rule = catalog_of(code), Locale.parse(code).plural_form
    # Counts on a sheet are whole and small; forms for millions alone are not needed.
    tags = [rule(number) for number in range(1001)]
    assert catalog.num_plurals == len(set(tags))
    place_of: dict[str, int] = {}
    choose = language._read(FOLDER / code / "LC_MESSAGES" / "hotelwatch.po").plural
    for number, tag in enumerate(tags):
        assert place_of.setdefault(tag, choose(number)) == choose(number), number
    assert len(set(place_of.values())) == len(place_of)
    for row in messages_of(catalog).values():
        if isinstance(row.id, str):
            continue
        assert len(row.string) == catalog.num_plurals, row.id
        for tag, place in place_of.items():
            said = fields_of(row.string[place])
            may_be = [fields_of(row.id[1])] + ([set()] if tag in COUNTED_ALONE else [])
            assert said in may_be, (row.id, tag)


@pytest.mark.parametrize("code", [code for code in CODES if code != "ar"])
def test_parts_are_joined_as_unicodes_locale_data_does(code):
    # Arabic has "and" between all parts there; both are used, and ours keeps lists short.
    with language.speaking(code):
        assert language.join(["a", "b", "c"]) == format_list(["a", "b", "c"], locale=code)


def test_each_language_is_marked_as_not_checked_until_somebody_did(tmp_path, monkeypatch):
    for code in CODES:
        with language.speaking(code):
            assert language.is_unchecked()
            assert language.checked_by() == ""
        assert language_note(code).endswith("not checked by a native speaker")
    for code in ("en", language.PSEUDO):
        with language.speaking(code):
            assert not language.is_unchecked()
    checked = tmp_path / "translations" / "fr" / "LC_MESSAGES" / "hotelwatch.po"
    checked.parent.mkdir(parents=True)
    french = (FOLDER / "fr" / "LC_MESSAGES" / "hotelwatch.po").read_text("utf-8")
    line = "# Checked by a native speaker: "
    assert f"{line}nobody." in french
    checked.write_text(french.replace(f"{line}nobody.", f"{line}Odile Verran, 2027."), "utf-8")
    monkeypatch.setattr(paths, "resources", lambda: tmp_path)
    with language.speaking("fr"):
        assert language.checked_by() == "Odile Verran, 2027"
        assert not language.is_unchecked()
    assert language_note("fr") == language_name("fr") == "French (français)"


def test_a_language_that_is_not_there_is_spoken_as_english():
    with language.speaking("tlh"):
        assert language.current() == "en"
    with language.speaking("es"):
        with language.speaking("pl"):
            assert language.current() == "pl"
        assert language.current() == "es"
    assert language.current() == "en"


def test_english_reads_no_translators_file_when_the_program_starts():
    program = "import sys, hotelwatch.cli.main; print('babel.messages.pofile' in sys.modules)"
    run = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == "False"


BOOKS = tuple(path.parents[1].name for path in FOLDER.glob("*/LC_MESSAGES/book.po"))


@pytest.mark.parametrize("code", BOOKS)
def test_nothing_that_a_book_can_say_is_left_in_english(code):
    with (FOLDER / code / "LC_MESSAGES" / "book.po").open("rb") as file:
        catalog = read_po(file, locale=code, abort_invalid=True)
    of_sheets, of_books = set(messages_of(catalog_of(code))), messages_of(catalog)
    assert set(said_in_books()) - of_sheets == set(of_books)
    for row in of_books.values():
        assert not row.fuzzy, row.id
        forms = (row.string,) if isinstance(row.string, str) else row.string
        ids = (row.id,) if isinstance(row.id, str) else row.id
        assert all(form.strip() for form in forms), row.id
        for form in forms:
            assert fields_of(form) in [fields_of(one) for one in ids], row.id


def test_a_language_has_books_of_its_own_only_where_they_are_whole():
    assert BOOKS == ("es",)
    for code in ("en", *CODES):
        with language.speaking(code):
            assert language.has_books() == (code in ("en", *BOOKS))


def test_what_is_not_translated_for_books_is_said_in_english():
    with language.speaking("fr"):
        assert language._("What needs a decision") == "What needs a decision"
    with language.speaking("es"):
        assert language._("What needs a decision") == "Lo que pide una decisión"
