"""Letters that Alt reaches: where two things have the same one, Alt presses neither of them.

Qt's documentation of QKeySequence and of mnemonics: a letter that two widgets share is
ambiguous, and goes round between them.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from PySide6.QtGui import QKeySequence

from hotelwatch import screens

FOLDER = Path(screens.__file__).parent
MIGHT_CLASH = re.compile("&[EFGHVefghv]")
OF_MENUS = {"menus.py", "recent_menu.py"}
"""Their letters count in a menu that is open, which has the keyboard for itself."""


def marked_texts(tree: ast.AST) -> Iterator[str]:
    """Texts with a letter marked, but for those of a menu's lines."""
    in_menus = {
        part
        for call in calls(tree, "addAction")
        for argument in call.args
        for part in ast.walk(argument)
    }
    for call in (*calls(tree, "_"), *calls(tree, "ngettext")):
        texts = (one.value for one in call.args if isinstance(one, ast.Constant))
        if call not in in_menus:
            yield from (text for text in texts if letter_of(text))


def calls(tree: ast.AST, name: str) -> Iterator[ast.Call]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            called = node.func
            if name in (getattr(called, "id", ""), getattr(called, "attr", "")):
                yield node


def letter_of(text: object) -> str:
    """The letter that Qt would take from a text, in capitals; "" for none."""
    keys = QKeySequence.mnemonic(text) if isinstance(text, str) else QKeySequence()
    return keys.toString().removeprefix("Alt+")


def test_no_field_or_button_has_the_letter_of_a_menu():
    menus = ast.parse((FOLDER / "frame" / "menus.py").read_text("utf-8"))
    titles = [text for call in calls(menus, "_menu") for text in marked_texts(call)]
    of_bar = {letter_of(title) for title in titles}
    assert of_bar == set("FEGVH")
    found = []
    for module in sorted(FOLDER.rglob("*.py")):
        source = module.read_text("utf-8")
        if module.name not in OF_MENUS and MIGHT_CLASH.search(source):
            told = (text for text in marked_texts(ast.parse(source)) if letter_of(text) in of_bar)
            found += [f"{module.relative_to(FOLDER)}: {text}" for text in told]
    assert not found, found
