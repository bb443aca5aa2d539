"""How somebody of the staff is named on what leaves the hotel: by name or by initials."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence

from hotelwatch.core.house import House
from hotelwatch.core.people_facts import PersonDescribed
from hotelwatch.core.record_facts import is_gone

RULE = "names_outside"
"""The hotel's choice; a key of profile.CHOICES."""
INITIALS = "initials"


def shown_name(house: House, name: str) -> str:
    """A name as it stands on what leaves the hotel, by the hotel's choice.

    Where two people who are described in the file have the same initials, the one
    described later bears a number, always the same. What has expired stays as it reads.
    """
    if house.choices.get(RULE) != INITIALS or is_gone(name):
        return name
    described = dict.fromkeys(fact.person for fact in house.all_of(PersonDescribed))
    described = {name: None for name in described if not is_gone(name)}
    return _numbered(tuple(described)).get(name) or initials(name)


def initials(name: str) -> str:
    """The first letters of a name's words, upper case, each with a stop: "A. B."."""
    parts = [part.lstrip("'’(\"") for part in name.replace("-", " ").split()]
    return " ".join(f"{part[0].upper()}." for part in parts if part)


def _numbered(names: Sequence[str]) -> Mapping[str, str]:
    alike: defaultdict[str, list[str]] = defaultdict(list)
    for name in names:
        alike[initials(name)].append(name)
    return {
        name: short if place == 1 else f"{short} {place}"
        for short, group in alike.items()
        for place, name in enumerate(group, 1)
    }
