"""The program's own sources, read and parsed once for all tests that look through them."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

PROGRAM = Path(__file__).parents[1] / "hotelwatch"
MODULES = tuple(sorted(PROGRAM.rglob("*.py")))


@cache
def text_of(module: Path) -> str:
    """What stands in a module."""
    return module.read_text("utf-8")


@cache
def tree_of(module: Path) -> ast.Module:
    """A module as Python parses it; nobody may change it."""
    return ast.parse(text_of(module), filename=str(module))


@cache
def nodes_of(module: Path) -> tuple[ast.AST, ...]:
    """Every node of a module, from the outermost on."""
    return tuple(ast.walk(tree_of(module)))
