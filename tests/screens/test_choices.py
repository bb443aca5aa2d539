from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hotelwatch.screens.at_hand.choices import (
    FILE_NAME,
    MOST_RECENT,
    Choices,
    ChoiceStore,
    read_choices,
    write_choices,
)
from hotelwatch.screens.look.theme import TextSize, Theme

TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=20)


def test_what_was_kept_is_read_again(tmp_path):
    store = ChoiceStore(tmp_path)
    store.keep(Choices(theme="dark", width=1500, is_maximised=True, written_by='Åsa "A"'))
    assert ChoiceStore(tmp_path).choices == store.choices


@pytest.mark.parametrize("theme", list(Theme))
@pytest.mark.parametrize("size", list(TextSize))
def test_every_look_and_size_of_text_is_kept(tmp_path, theme, size):
    ChoiceStore(tmp_path).keep(Choices(theme=theme.value, text_size=size.value))
    kept = ChoiceStore(tmp_path).choices
    assert (kept.theme, kept.text_size) == (theme, size)


@given(written_by=TEXTS, names=st.lists(TEXTS, max_size=4))
def test_any_text_comes_back_through_toml(tmp_path_factory, written_by, names):
    # Read back with tomllib of the standard library (TOML 1.0.0), the text as it was.
    path = tmp_path_factory.getbasetemp() / "any.toml"
    choices = Choices(written_by=written_by, names=tuple(names))
    write_choices(path, choices)
    assert tomllib.loads(path.read_text("utf-8"))["written_by"] == written_by
    assert read_choices(path) == choices


@pytest.mark.parametrize(
    "text", ["", "not = [toml", "theme = 3", 'theme = "purple"', "width = true", 'names = "x"']
)
def test_what_a_file_has_wrong_is_as_shipped(tmp_path, text):
    path = tmp_path / FILE_NAME
    path.write_text(text, "utf-8")
    assert read_choices(path) == Choices()


def test_without_a_file_the_choices_are_as_shipped(tmp_path):
    assert ChoiceStore(tmp_path).choices == Choices()


def test_recent_files_stand_once_the_last_one_first():
    choices = Choices()
    for number in range(MOST_RECENT + 3):
        choices = choices.opened(Path(f"{number}.hotelwatch"))
    choices = choices.opened(Path("9.hotelwatch"))
    assert choices.last_file == choices.recent[0] == "9.hotelwatch"
    assert len(choices.recent) == len(set(choices.recent)) == MOST_RECENT
    gone = choices.without("9.hotelwatch")
    assert gone.last_file == ""
    assert "9.hotelwatch" not in gone.recent


def test_names_used_last_are_offered_first(tmp_path):
    store = ChoiceStore(tmp_path)
    store.remember(("Anna", "Boris"))
    store.remember(("Carla",))
    store.remember(("Boris",))
    assert store.names() == ("Boris", "Carla", "Anna")
    assert ChoiceStore(tmp_path).names() == ("Boris", "Carla", "Anna")


def test_a_folder_that_can_not_be_written_to_stops_no_work(tmp_path, caplog):
    store = ChoiceStore(tmp_path / "missing")
    store.remember(("Anna",))
    assert store.names() == ("Anna",)
    assert "not kept" in caplog.text
