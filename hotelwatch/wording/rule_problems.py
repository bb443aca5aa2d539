"""What is wrong with a file of local rules, and what is not allowed with sets: what, and mend."""

from __future__ import annotations

from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m

WANTED = {
    "text": m("a text in quotes"),
    "number": m("a whole number, without quotes"),
    "day": m("a day without quotes, as 2026-03-09"),
    "code": m("one word in quotes"),
    "codes": m("a list of words in quotes, in square brackets"),
}

RULE_PROBLEMS: dict[str, tuple[str, str]] = {
    "rules_not_toml": (
        m("This is not TOML: {why}."),
        m("Look at that line: texts stand in quotes, lists in square brackets."),
    ),
    "rules_not_utf8": (
        m("The file is not written in UTF-8."),
        m("Save it as plain text in UTF-8."),
    ),
    "rules_no_set": (
        m("The file holds no set of local rules."),
        m("Begin with a line as [our_town], as the template shows."),
    ),
    "rules_key": (
        m("“{key}” cannot be a set's or a clause's key."),
        m("Use small letters a to z, digits and _, at most 60."),
    ),
    "rules_key_shipped": (
        m("The program ships a set of its own as “{key}”."),
        m("Give yours another key, as our_{key}."),
    ),
    "rules_no_table": (
        m("“{field}” is no table."),
        m("A set is a table, as [our_town]; a clause one in it, as [our_town.clauses.keep]."),
    ),
    "rules_field_missing": (
        m("“{field}” is not said."),
        m("Add a line “{field} = …”; the template says what belongs there."),
    ),
    "rules_field_unknown": (
        m("“{field}” is no field of it."),
        m("Look how it is spelled, or take it out. What may stand here: {among}."),
    ),
    "rules_wrong_type": (
        m("“{field}” does not hold what belongs there."),
        m("It wants {wanted}."),
    ),
    "rules_empty": (m("“{field}” is empty."), m("Say it.")),
    "rules_odd_characters": (
        m("“{field}” holds characters that no paper can show."),
        m("Type the text anew."),
    ),
    "rules_unknown_code": (
        m("“{value}” is not one of the words for “{field}”."),
        m("Use one of: {among}."),
    ),
    "rules_out_of_range": (
        m("{value} is out of range for “{field}”."),
        m("Give a number from {low} to {high}."),
    ),
    "rules_nobody_to_tell": (
        m("Somebody is to be told, and it is not said who."),
        m("Say it in “to” of the clause, or in “authority” of the set."),
    ),
    "rules_two_clocks": (
        m("Two clauses set a time for the same duty ({duty})."),
        m("The first one counts for what is next; each is judged. Take one out if it is wrong."),
    ),
}

RULE_REFUSALS: dict[str, tuple[str, str]] = {
    "rules_file_too_large": (
        m("{file} is larger than {most} kB: that is no set of local rules."),
        m("Choose the file with the rules."),
    ),
    "rules_file_not_readable": (
        m("{file} cannot be read: {why}."),
        m("Look whether you may read it, and try again."),
    ),
    "rules_kept_already": (
        m("The hotel's file keeps all of {file} already, word for word."),
        m("Nothing is to be done. Choose the set to work under it."),
    ),
    "unknown_clause": (
        m("The set has no clause {clause}."),
        m("Choose one of: {among}."),
    ),
    "comparison_needs_name": (
        m("It is not said who compared the rules with the law in force."),
        m("Name the person, by name or by code."),
    ),
}


def wanted_text(holds: str) -> str:
    """What a field wants to hold."""
    return _(WANTED[holds]) if holds in WANTED else holds
