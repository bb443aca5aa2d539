from __future__ import annotations

import ast
import gettext
import io
import string

import pytest
from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import write_po
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch import paths
from hotelwatch.wording import language
from tests.sources import MODULES, nodes_of


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


def fields_of(message):
    return sorted(name for _, name, _, _ in string.Formatter().parse(message) if name)


def test_english_is_the_source_and_stands_as_written():
    assert language._("Corner caps") == "Corner caps"
    assert language.ngettext("one", "many", 1) == "one"
    assert [language.ngettext("one", "many", n) for n in (0, 2, 5)] == ["many"] * 3


def test_a_language_without_translation_speaks_english():
    language.use("tlh")
    assert language._("Corner caps") == "Corner caps"


@given(st.lists(st.sampled_from(["{room}", "{source}", "wall ", "Any", "é", "shares "])))
def test_the_pseudo_language_keeps_every_placeholder(parts):
    message = "".join(parts)
    language.use(language.PSEUDO)
    said = language._(message)
    assert fields_of(said) == fields_of(message)
    assert len(said) > len(message)


def test_a_translation_in_the_resources_is_found_and_used(tmp_path, monkeypatch):
    # GNU gettext manual, 10.2: <dir>/<locale>/LC_MESSAGES/<domain>, written by Babel.
    folder = tmp_path / "translations" / "de" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    catalog = Catalog(locale="de")
    catalog.add("Corner caps", "Eckkappen")
    catalog.add(("{count} day", "{count} days"), ("{count} Tag", "{count} Tage"))
    with (folder / "hotelwatch.po").open("wb") as file:
        write_po(file, catalog)
    monkeypatch.setattr(paths, "resources", lambda: tmp_path)
    assert language.available() == ("en", "de")
    language.use("de")
    assert language._("Corner caps") == "Eckkappen"
    assert [language.ngettext("{count} day", "{count} days", n) for n in (1, 2)] == [
        "{count} Tag",
        "{count} Tage",
    ]
    assert language.current() == "de"


def test_parts_are_joined_as_one_says_them():
    assert language.join([]) == ""
    assert language.join(["a"]) == "a"
    assert language.join(("a", "b", "c")) == "a, b and c"


def _messages():
    """What Babel takes out of the sources, as a translator's catalogue would."""
    keywords = {"_": None, "ngettext": (1, 2), "marked": None, "m": None}
    for module in MODULES:
        source = io.BytesIO(module.read_bytes())
        for row in extract("python", source, keywords, options={"encoding": "utf-8"}):
            yield module, row[0], row[1]


def test_every_sentence_of_the_program_can_be_taken_out_for_translators():
    found = list(_messages())
    texts = {
        text
        for _, _, message in found
        for text in ([message] if isinstance(message, str) else message)
    }
    assert {
        "Corner caps",
        "The same guests stay in {room} through all of these days.",
        "{count} days",
    } <= texts
    for module, line, message in found:
        for text in [message] if isinstance(message, str) else message:
            assert text.strip(), f"{module.name}:{line}"
            for field in fields_of(text):
                assert field.isidentifier(), f"{module.name}:{line}: {text}"


def test_no_sentence_is_built_inside_the_call_that_translates_it():
    for module in MODULES:
        for node in nodes_of(module):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
                continue
            if node.func.id in {"marked", "m"} and node.args:
                assert isinstance(node.args[0], ast.Constant), f"{module}:{node.lineno}"
            if node.func.id in {"_", "ngettext"} and node.args:
                assert not isinstance(node.args[0], ast.JoinedStr | ast.BinOp), (
                    f"{module}:{node.lineno}"
                )


def test_nothing_but_gettext_stands_behind_it():
    assert isinstance(language._spoken()[1], gettext.NullTranslations)
