"""What a cell says about beds: "2 box spring, 1 sofa bed", "queen box spring x2"."""

from __future__ import annotations

import re
from dataclasses import dataclass

from hotelwatch.intake.cells import fold
from hotelwatch.intake.words import Words

_MEASURES = re.compile(r"\b\d{2,3}\s*[x×*]\s*\d{2,3}(?:\s*cm)?\b", re.IGNORECASE)
_PARTS = re.compile(r"[,;/+&\n]|\band\b|\bplus\b", re.IGNORECASE)
# "2 box spring 1 sofa bed": a new part begins where a number stands before a word.
_NEXT_COUNT = re.compile(r"(?<=[^\W\d])\s+(?=\d+\s*(?:[x×*]\s+)?[^\W\d]{2})")
_COUNT = re.compile(r"(?:[x×*]\s*)?(?<!\d)(\d{1,6})(?!\d)(?:\s*[x×*](?![^\W\d]))?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class BedsSaid:
    """Beds by kind in the order said, or the first part that makes no sense."""

    counts: tuple[tuple[str, int], ...] = ()
    """Kind and number."""
    bare_count: int | None = None
    """A number without any kind."""
    unknown: str = ""
    unclear: str = ""
    without_kind: str = ""
    """A size without a kind: "2 queen"."""


def beds_said(text: str, words: Words) -> BedsSaid:
    """The beds that a text says."""
    if words.is_nothing(text) and text != ".":
        return BedsSaid()
    if re.fullmatch(r"\d{1,6}", text, re.ASCII):
        return BedsSaid(bare_count=int(text))
    counts: list[tuple[str, int]] = []
    for part in _parts(_MEASURES.sub(" ", text)):
        numbers = [int(n) for n in _COUNT.findall(part)]
        name = _COUNT.sub(" ", part)
        if len(numbers) > 1:
            return BedsSaid(unclear=part)
        kind = kind_of_bed(name, words)
        if kind == "":
            return BedsSaid(without_kind=part)
        if kind is None:
            return BedsSaid(unknown=part)
        counts.append((kind, numbers[0] if numbers else 1))
    return BedsSaid(counts=_summed(counts)) if counts else BedsSaid(unclear=text)


def _parts(text: str) -> list[str]:
    parts = (piece for part in _PARTS.split(text) for piece in _NEXT_COUNT.split(part))
    return [part.strip() for part in parts if fold(part)]


def kind_of_bed(name: str, words: Words) -> str | None:
    """The kind that a name means; empty if it says a size only, None if it is not known."""
    folded = fold(name)
    if folded in words.beds:
        return words.beds[folded]
    left = [word for word in folded.split() if word not in words.bed_sizes]
    if not left:
        return ""
    for candidate in (" ".join(left), " ".join(_one(word) for word in left)):
        if candidate in words.beds:
            return words.beds[candidate]
    return None


def _one(word: str) -> str:
    return word.removesuffix("s")


def _summed(counts: list[tuple[str, int]]) -> tuple[tuple[str, int], ...]:
    totals: dict[str, int] = {}
    for kind, count in counts:
        totals[kind] = totals.get(kind, 0) + count
    return tuple(totals.items())
