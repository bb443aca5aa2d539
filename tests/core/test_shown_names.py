from __future__ import annotations

from hotelwatch.core.choice_facts import RuleChosen
from hotelwatch.core.people_facts import PersonDescribed, StaffRole
from hotelwatch.core.shown_names import initials, shown_name
from tests.build import house


def people(*names):
    return [PersonDescribed(name, StaffRole.SUPERVISOR, "hash") for name in names]


def by_initials(*facts):
    return house().record(RuleChosen("names_outside", "initials"), *facts).house


def test_names_go_out_in_full_until_the_hotel_chooses_otherwise():
    assert shown_name(house().house, "Åsa Lind") == "Åsa Lind"


def test_initials_are_numbered_where_people_of_the_house_share_them():
    known = by_initials(*people("Åsa Lind", "Åke Löv"))
    shown = [shown_name(known, name) for name in ("Åsa Lind", "Åke Löv", "Eve M.")]
    assert shown == ["Å. L.", "Å. L. 2", "E. M."]
    again = by_initials(*people("Åsa Lind", "Åke Löv", "Åsa Lind"))
    assert shown_name(again, "Åke Löv") == "Å. L. 2", "described anew: the same number"


def test_what_has_expired_reads_the_same():
    known = by_initials()
    assert shown_name(known, "‹expired 2029-03 #12›") == "‹expired 2029-03 #12›"


def test_double_names_and_single_words():
    # common practice, no source: each part of a double name counts.
    assert initials("Anne-Marie o'Neil") == "A. M. O."
    assert initials("anna") == "A."
    assert initials("") == ""
