"""Which messages can come into a workbook that leaves the hotel: followed through the code.

From every function and table of the modules that write books, along the names that they use,
into the modules of words; and what the figures that books list are called and for.
``python -m tests.wording.in_books`` writes a template of those
that sheets do not say, for ``pybabel``: DEVELOPERS.md, "A language".
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_file
from babel.messages.pofile import read_po, write_po

from hotelwatch import paths
from hotelwatch.core.month.figures import _used as figures_listed
from hotelwatch.intake.rules_file import read_figures

ROOT = Path(__file__).parents[2]
KEYWORDS = {"_": None, "ngettext": (1, 2), "marked": None, "m": None}
BOOKS = (
    "month_*",
    "span_book",
    "book_claims",
    "sheets",
    "workbook",
    "listings",
    "styles",
    "target",
)
"""Of ``hotelwatch.papers``: calendars and front desk's list stay in the house, in English."""
FIGURES = "parameters.toml"
WORDS = ("hotelwatch.wording.", "hotelwatch.papers.")
Message = str | tuple[str, ...]


class Module:
    """What a module defines and imports, by name, and what it says on which line."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.file = f"{name.replace('.', '/')}.py"
        path = ROOT / self.file
        self.tree = ast.parse(path.read_text("utf-8"))
        self.said = [
            (line, message)
            for line, message, _, _ in extract_from_file("python", path, keywords=KEYWORDS)
        ]
        self.defined: dict[str, ast.stmt] = {}
        for node in self.tree.body:
            self.defined |= dict.fromkeys(_names_of(node), node)
        self.imported = {
            alias.asname or alias.name: (node.module, alias.name)
            for node in ast.walk(self.tree)
            if isinstance(node, ast.ImportFrom) and node.module
            for alias in node.names
        }


def said_in_books() -> dict[Message, str]:
    """Every message that a book can hold, with the file that says it."""
    found: dict[Message, str] = {}
    for figure in figures_listed(read_figures(paths.resources() / FIGURES)):
        names = (figure.key.replace("_", " "), figure.note)
        found |= dict.fromkeys(names, f"resources/{FIGURES}")
    return found | _said_by_code()


def _said_by_code() -> dict[Message, str]:
    todo: list[tuple[str, str]] = []
    found: dict[Message, str] = {}
    for path in sorted(
        p for name in BOOKS for p in (ROOT / "hotelwatch/papers").glob(f"{name}.py")
    ):
        module = _module(f"hotelwatch.papers.{path.stem}")
        found |= {message: module.file for _, message in module.said}
        todo += _used(module, module.tree)
    done: set[tuple[str, str]] = set()
    while todo:
        name, what = todo.pop()
        if (name, what) in done:
            continue
        done.add((name, what))
        module = _module(name)
        node = module.defined.get(what)
        if node is None:
            todo += _follow(module.imported.get(what, ("", "")))
            continue
        for line, message in module.said:
            if node.lineno <= line <= (node.end_lineno or 0):
                found.setdefault(message, module.file)
        todo += _used(module, node)
    return found


@cache
def _module(name: str) -> Module:
    return Module(name)


def _names_of(node: ast.stmt) -> list[str]:
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        return [node.name]
    targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", node)]
    return [n.id for target in targets for n in ast.walk(target) if isinstance(n, ast.Name)]


def _used(module: Module, node: ast.AST) -> Iterator[tuple[str, str]]:
    """What a piece of a module uses of its own and of others': (module, name)."""
    for part in ast.walk(node):
        if isinstance(part, ast.Name):
            if part.id in module.defined:
                yield module.name, part.id
            yield from _follow(module.imported.get(part.id, ("", "")))
        elif isinstance(part, ast.Attribute) and isinstance(part.value, ast.Name):
            package, name = module.imported.get(part.value.id, ("", ""))
            yield from _follow((f"{package}.{name}", part.attr))


def _follow(imported: tuple[str, str]) -> list[tuple[str, str]]:
    name, _ = imported
    is_of_words = name.startswith(WORDS) and name != "hotelwatch.wording.language"
    return [imported] if is_of_words and (ROOT / f"{name.replace('.', '/')}.py").is_file() else []


def template() -> Catalog:
    """What a translator of books has to write beyond what sheets say already."""
    with (paths.resources() / "translations" / "hotelwatch.pot").open("rb") as file:
        of_sheets = {row.id for row in read_po(file)}
    catalog = Catalog(project="hotelwatch", copyright_holder="the authors of hotelwatch")
    for message, file in said_in_books().items():
        if message not in of_sheets:
            catalog.add(message, locations=[(file, None)])
    return catalog


if __name__ == "__main__":
    write_po(sys.stdout.buffer, template(), width=0, sort_by_file=True, omit_header=False)
