"""A book as a package. Source: ECMA-376 part 2 (Open Packaging Conventions), and part 1."""

from __future__ import annotations

import posixpath
import zipfile
from pathlib import Path
from xml.etree.ElementTree import Element

import pytest
from defusedxml.ElementTree import fromstring

from hotelwatch.papers.month_book import write_month_book
from tests.papers.test_month_book import CLAIMS, PROOF, february

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"


@pytest.fixture(scope="module")
def parts(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    path: Path = tmp_path_factory.mktemp("package") / "book.xlsx"
    write_month_book(path, february(), claims=CLAIMS, proof=PROOF)
    with zipfile.ZipFile(path) as archive:
        # Part 2, 8.2 (ZIP): names are unique; ours bear one moment, so that files are alike.
        assert len({i.filename for i in archive.infolist()}) == len(archive.infolist())
        assert {i.date_time for i in archive.infolist()} == {(1980, 1, 31, 0, 0, 0)}
        return {name: archive.read(name) for name in archive.namelist()}


def xml(parts: dict[str, bytes], name: str) -> Element:
    found: Element = fromstring(parts[name])
    return found


def test_every_part_has_a_content_type(parts: dict[str, bytes]) -> None:
    # Part 2, 7.2.3: by its own name, else by its extension.
    types = list(xml(parts, "[Content_Types].xml"))
    named = {t.get("PartName") for t in types if t.tag.endswith("Override")}
    endings = {t.get("Extension") for t in types if t.tag.endswith("Default")}
    for name in parts:
        if name != "[Content_Types].xml":
            assert f"/{name}" in named or name.rpartition(".")[2] in endings, name
    assert {name.removeprefix("/") for name in named if name} <= set(parts)


def test_every_relationship_leads_to_a_part_and_none_outside(parts: dict[str, bytes]) -> None:
    # Part 2, 6.5: ids are unique in their part, targets are relative to its source.
    seen = 0
    for name in parts:
        if not name.endswith(".rels"):
            continue
        folder = posixpath.dirname(posixpath.dirname(name))
        links = list(xml(parts, name))
        assert len({link.get("Id") for link in links}) == len(links)
        for link in links:
            assert link.get("TargetMode") != "External"
            target = link.get("Target", "")
            whole = target if target.startswith("/") else posixpath.join("/", folder, target)
            assert posixpath.normpath(whole).removeprefix("/") in parts, (name, target)
            seen += 1
    assert seen > 50


def test_tables_have_numbers_and_names_of_their_own_and_headings_that_stand_in_cells(
    parts: dict[str, bytes],
) -> None:
    # Part 1, 18.5.1.2 table: id and displayName are unique, as among defined names.
    tables = [xml(parts, name) for name in parts if name.startswith("xl/tables/")]
    book = xml(parts, "xl/workbook.xml")
    names = [one.get("name", "") for one in book.iter(f"{MAIN}definedName")]
    own = [name for name in names if not name.startswith("_xlnm")]
    shown = [table.get("displayName", "") for table in tables]
    assert len({table.get("id") for table in tables}) == len(tables) > 20
    assert len({name.casefold() for name in [*shown, *own]}) == len(shown) + len(own)
    for table in tables:
        columns = [c.get("name", "") for c in table.iter(f"{MAIN}tableColumn")]
        assert len({name.casefold() for name in columns}) == len(columns)


def test_sheets_are_named_as_the_format_allows(parts: dict[str, bytes]) -> None:
    # Part 1, 18.2.19 sheet; spreadsheet programs allow 31 characters and none of \ / ? * [ ] :
    sheets = [s.get("name", "") for s in xml(parts, "xl/workbook.xml").iter(f"{MAIN}sheet")]
    assert len({name.casefold() for name in sheets}) == len(sheets)
    for name in sheets:
        assert 0 < len(name) <= 31
        assert not set(name) & set("\\/?*[]:")
