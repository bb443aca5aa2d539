from __future__ import annotations

import importlib
import pkgutil
import tomllib
from dataclasses import fields
from enum import StrEnum

import pytest

import hotelwatch.core
from hotelwatch import paths
from hotelwatch.core.fact_kinds import FACT_KINDS
from hotelwatch.core.facts import CheckKind, Side
from hotelwatch.core.month.policy import KEPT_SECRET
from hotelwatch.core.records import StayStatus
from hotelwatch.wording import language, names
from hotelwatch.wording.fact_fields import FIELDS
from hotelwatch.wording.names import bed_label, label, place_label


def core_enums():
    found = {}
    for module in pkgutil.walk_packages(hotelwatch.core.__path__, "hotelwatch.core."):
        for kind in vars(importlib.import_module(module.name)).values():
            if isinstance(kind, type) and issubclass(kind, StrEnum) and kind is not StrEnum:
                found[f"{kind.__module__}.{kind.__name__}"] = kind
    return [found[name] for name in sorted(found)]


def beds_toml():
    with (paths.resources() / "beds.toml").open("rb") as file:
        return tomllib.load(file)


@pytest.fixture(autouse=True)
def _english():
    language.use("en")
    yield
    language.use("en")


@pytest.mark.parametrize("kind", core_enums(), ids=lambda kind: kind.__name__)
def test_every_member_of_every_enum_of_the_core_has_its_own_name(kind):
    assert set(names.ENUMS[kind.__name__]) == {member.value for member in kind}
    said = [label(member) for member in kind]
    assert len(set(said)) == len(said)
    assert not {member.value for member in kind} & set(said)


def test_no_two_enums_of_the_core_share_a_name():
    said = [kind.__name__ for kind in core_enums()]
    assert len(set(said)) == len(said)


def test_every_code_of_the_kinds_of_bed_has_its_own_name():
    beds = beds_toml()
    places = beds["places"]
    moves = {row["move"] for row in places.values() if "move" in row}
    cautions = {row["caution"] for row in places.values() if "caution" in row}
    assert set(names.PLACES) == set(places)
    assert set(names.BEDS) == set(beds["beds"])
    assert set(names.MOVES) == moves
    assert set(names.CAUTIONS) == cautions


@pytest.mark.parametrize("table", [*names.CODES, *names.ENUMS.values()])
def test_names_are_short_and_differ_within_a_kind(table):
    assert len(set(table.values())) == len(table)
    for code, said in table.items():
        assert said != code
        assert "_" not in said
        assert len(said) <= 60
        assert said[0].isupper()
        assert not said.endswith(".")


def test_reasons_for_not_looking_are_those_that_the_sheet_offers():
    assert set(names.WHY_UNSEEN) == {
        "guest_belongings",
        "fixed_to_floor",
        "no_second_person",
        "no_time",
        "guest_present",
        "cannot_be_moved",
        "not_asked",
        "other",
    }


def test_the_same_code_is_named_after_its_enum():
    assert label(Side.LEFT) != label(StayStatus.LEFT)
    assert label("slats") == place_label("slats") != bed_label("slats")
    assert label("shares_wall") == "Shares a wall"


def test_a_place_that_an_older_file_knew_is_still_readable():
    assert label("under_the_stairs") == "Under the stairs"


def test_no_name_claims_that_a_room_is_free_of_bed_bugs():
    said = " ".join(
        text for table in (*names.CODES, *names.ENUMS.values()) for text in table.values()
    )
    for word in ("bug-free", "free of", "safe", "all clear", "hold"):
        assert word not in said.lower().replace("hold by the handles", "").replace("holders", "")


def test_every_field_of_a_fact_is_named_but_the_hash_of_a_pin_which_is_never_told():
    told = {field.name for kind in FACT_KINDS for field in fields(kind)}
    assert told - KEPT_SECRET == set(FIELDS)
    assert not [text for text in FIELDS.values() if "_" in text]


def test_names_follow_the_language_that_is_spoken_when_they_are_asked_for():
    plain = label(CheckKind.DEEP)
    language.use(language.PSEUDO)
    assert label(CheckKind.DEEP) != plain
    assert len(label(CheckKind.DEEP)) > len(plain)
