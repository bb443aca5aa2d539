"""Pictures of the window: each page in its tabs, look, text size and language, at two sizes.

Run as ``python -m tests.pictures [--only rounds] [--out pictures] [--every]``. It builds the
invented hotel on a day that never changes. Without ``--every`` it takes each look at normal
text, each text size in the light look, and each language in the light look; with it, all
with all. ``sheet-….png`` shows all pages of one look at a glance. Git ignores the folder.
"""

from __future__ import annotations

import argparse
import itertools
import os
import tempfile
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("QT_SCALE_FACTOR", "1")

from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import QColor, QImage, QPainter
from PySide6.QtWidgets import QApplication

from hotelwatch.screens.look.theme import LOOKS, Look, TextSize, Theme
from hotelwatch.wording import language
from tests.walk import app_of, build_invented, copied, places, settle, window_on

SIZES = (QSize(1280, 800), QSize(1920, 1080))
FOLDER = Path("pictures")
THUMB = QSize(640, 400)
COLUMNS = 4
CAPTION_PX = 22


@dataclass(frozen=True)
class Dress:
    """How the window stands for one series of pictures."""

    theme: Theme
    text: TextSize
    language: str
    size: QSize

    @property
    def name(self) -> str:
        """The name of its folder."""
        size = f"{self.size.width()}x{self.size.height()}"
        return f"{self.theme.value}-{self.text.value}-{self.language}-{size}"


def dresses(*, every: bool) -> list[Dress]:
    """All that pictures are taken in, those of one language together."""
    # The window speaks English; translators' files hold what teams' sheets say, no more.
    spoken = [language.SOURCE, language.PSEUDO]
    if every:
        chosen = set(itertools.product(LOOKS, TextSize, spoken))
    else:
        chosen = {(theme, TextSize.NORMAL, language.SOURCE) for theme in LOOKS}
        chosen |= {(Theme.LIGHT, text, language.SOURCE) for text in TextSize}
        chosen |= {(Theme.LIGHT, TextSize.NORMAL, code) for code in spoken}
    return [
        Dress(theme, text, code, size)
        for theme, text, code in sorted(chosen, key=lambda one: (spoken.index(one[2]), *one[:2]))
        for size in SIZES
    ]


def wanted(all_of: Iterable[Dress], args: argparse.Namespace) -> Iterator[Dress]:
    """Those that the person asked for."""
    for dress in all_of:
        size = f"{dress.size.width()}x{dress.size.height()}"
        asked = (
            (args.theme, dress.theme.value),
            (args.text, dress.text.value),
            (args.language, dress.language),
            (args.size, size),
        )
        if all(not one or one == is_ for one, is_ in asked):
            yield dress


def take(path: Path, look: Look, dress: Dress, *, only: str, out: Path) -> list[Path]:
    """Take every picture of one series; where they lie."""
    language.use(dress.language)
    look.choose(dress.theme, dress.text)
    taken = []
    with tempfile.TemporaryDirectory() as kept:
        window = window_on(copied(path, Path(kept)), look, Path(kept) / "choices")
        window.resize(dress.size)
        window.show()
        settle(window)
        for where in places(window, only):
            file = out / dress.name / f"{where.replace('/', '--')}.png"
            file.parent.mkdir(parents=True, exist_ok=True)
            window.grab().save(str(file))
            taken.append(file)
        window.jobs.stop_all()
        window.close()
        window.deleteLater()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    language.use(language.SOURCE)
    return taken


def contact_sheet(files: list[Path], target: Path) -> None:
    """All pictures of one series on one, small, each with its name."""
    lines = -(-len(files) // COLUMNS)
    tall = THUMB.height() + CAPTION_PX
    sheet = QImage(COLUMNS * THUMB.width(), max(1, lines) * tall, QImage.Format.Format_RGB32)
    sheet.fill(QColor("#808080"))
    painter = QPainter(sheet)
    for number, file in enumerate(files):
        x, y = (number % COLUMNS) * THUMB.width(), (number // COLUMNS) * tall
        small = QImage(str(file)).scaled(
            THUMB,
            Qt.AspectRatioMode.KeepAspectRatio,
            Qt.TransformationMode.SmoothTransformation,
        )
        painter.setPen(QColor("#ffffff"))
        painter.drawText(QRect(x + 6, y, THUMB.width(), CAPTION_PX), 0, file.stem)
        painter.drawImage(x, y + CAPTION_PX, small)
    painter.end()
    sheet.save(str(target))


def main() -> None:
    """Take the pictures that are asked for."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("--only", default="", help="a page, or a page's tab: rounds/what-if")
    parser.add_argument("--out", type=Path, default=FOLDER)
    parser.add_argument("--every", action="store_true", help="all looks with all sizes of text")
    parser.add_argument("--theme", default="", choices=["", *(one.value for one in LOOKS)])
    parser.add_argument("--text", default="", choices=["", *(one.value for one in TextSize)])
    parser.add_argument("--language", default="")
    parser.add_argument("--size", default="", help="1280x800 or 1920x1080")
    args = parser.parse_args()
    _app, look = app_of()
    args.out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        path = build_invented(Path(folder))
        for dress in wanted(dresses(every=args.every), args):
            files = take(path, look, dress, only=args.only, out=args.out)
            contact_sheet(files, args.out / f"sheet-{dress.name}.png")
            print(f"{dress.name}: {len(files)} pictures", flush=True)


if __name__ == "__main__":
    main()
