from __future__ import annotations

import os
import re
from dataclasses import dataclass

import pytest

from hotelwatch.wording import language

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
collect_ignore_glob = ["test_*.py"] if os.environ.get("WITHOUT_QT") else []

POINT_MM = 25.4 / 72


@pytest.fixture(autouse=True)
def _qt(qapp):
    """One application for the whole run, of the kind that windows need too."""
    language.use("en")
    yield qapp
    language.use("en")


@dataclass(frozen=True)
class Piece:
    """Text as it stands in a PDF: its page, its baseline's start and its size in points."""

    page: int
    text: str
    x: float
    y: float
    size: float


DRAWN = re.compile(
    rb"^(?:[-\d. \[\]]+ )?(?:m|l|c|h|d|re|scn|SCN|S|f|f\*|B|B\*|n)(?: (?:h|S|n|f))*\n", re.MULTILINE
)
"""Lines of a page that draw and colour: most of it, and nothing that moves or writes text."""


def undrawn(path):
    """A reader whose pages hold their text alone: pypdf takes long over what is drawn."""
    from pypdf import PdfReader
    from pypdf.generic import ContentStream, NameObject

    reader = PdfReader(path)
    for page in reader.pages:
        written = ContentStream(None, reader, "bytes")
        written.set_data(DRAWN.sub(b"", page.get_contents().get_data()))
        page[NameObject("/Contents")] = written
    return reader


class Paper:
    """A PDF as pypdf, a library of others, reads it."""

    def __init__(self, path):
        from pypdf import PdfReader

        self.path = path
        self.reader = PdfReader(path)
        self._pieces = []
        self.pages = [self._read(*numbered) for numbered in enumerate(undrawn(path).pages)]
        self.text = " ".join(self.pages)

    def _read(self, number, page):
        def visit(text, cm, tm, _font, size):
            if text.strip():
                x = tm[4] * cm[0] + cm[4]
                y = tm[5] * cm[3] + cm[5]
                plain = " ".join(text.split())
                self._pieces.append(Piece(number, plain, x, y, size * abs(cm[3])))

        return " ".join(page.extract_text(visitor_text=visit).split())

    @property
    def size_mm(self):
        box = self.reader.pages[0].mediabox
        return float(box.width) * POINT_MM, float(box.height) * POINT_MM

    def pieces(self):
        return self._pieces

    def squares_mm(self):
        """Sides of every square that is drawn as a rectangle."""
        sides = []
        for page in self.reader.pages:
            content = page.get_contents().get_data().decode("latin-1")
            scale = float(re.search(r"(\S+) 0 0 -\S+ \S+ \S+ cm", content)[1])
            for found in re.finditer(r"\S+ \S+ (\S+) (\S+) re\nS", content):
                width, height = (abs(float(side)) * scale * POINT_MM for side in found.groups())
                if abs(width - height) < 0.01:
                    sides.append(width)
        return sides

    def fonts(self):
        for page in self.reader.pages:
            for font in page["/Resources"]["/Font"].values():
                below = font.get_object()["/DescendantFonts"][0].get_object()
                yield below["/FontDescriptor"].get_object()


@pytest.fixture(scope="session")
def read_paper():
    return Paper
