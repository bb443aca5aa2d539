"""What is wrong with a roster or a list of bookings: one pair of sentences per code.

The codes and their values are those of intake.codes and intake.grids; wording
stands below intake, so they are text here, and a test compares the two.
"""

from __future__ import annotations

from hotelwatch.wording.language import _
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.refusals import Pair

FIELDS = {
    "room": m("room"),
    "floor": m("floor"),
    "wing": m("wing"),
    "side": m("side of the corridor"),
    "order": m("order along the corridor"),
    "type": m("room type"),
    "beds": m("beds"),
    "bed_count": m("number of beds"),
    "bed_kind": m("kind of bed"),
    "encased": m("encased"),
    "connecting": m("connecting room"),
    "suite": m("suite"),
    "width": m("width"),
    "level": m("level"),
    "booking": m("booking reference"),
    "arrival": m("arrival"),
    "departure": m("departure"),
    "nights": m("nights"),
    "status": m("status"),
    "booked": m("day of booking"),
}


def field_name(field: str) -> str:
    """The name of a roster's or a booking's field."""
    if field.startswith("count_of_"):
        return _("number of beds of a kind")
    return _(FIELDS.get(field, field))


_FILES: dict[str, Pair] = {
    "no_such_table_file": (
        m("There is no file {file}."),
        m("Look whether it was moved or renamed, and choose it again."),
    ),
    "table_file_not_readable": (
        m("{file} cannot be opened: {why}."),
        m("Close it in other programs, look whether you may read it, and try again."),
    ),
    "unknown_table_file": (
        m("{file} is no table that can be read."),
        m("Save it as .xlsx, .ods or .csv from the program that made it."),
    ),
    "damaged_table_file": (
        m("{file} is damaged or was not copied whole."),
        m("Open it in a spreadsheet program, save it anew, or ask for it again."),
    ),
    "encrypted_table_file": (
        m("{file} is locked with a password."),
        m("Save a copy without a password, load that, and delete the copy afterwards."),
    ),
    "table_file_too_big": (
        m("{file} unfolds to more than {limit} megabytes."),
        m("Save only the sheet that is needed, without pictures, or split it."),
    ),
    "table_too_many_rows": (
        m("A sheet of {file} has more than {limit} rows."),
        m("Delete what is not needed, or split it into several files."),
    ),
    "table_too_many_columns": (
        m("A sheet of {file} has something in a column beyond the first {limit}."),
        m("Delete the columns and cells far to the right, and save it again."),
    ),
    "empty_table_file": (
        m("{file} holds nothing."),
        m("Choose the file with the table in it."),
    ),
    "no_such_sheet": (
        m("{file} has no sheet “{sheet}”. It has: {sheets}."),
        m("Choose one of its sheets."),
    ),
    "unclosed_quote": (
        m("{file}: a quotation mark opens in row {row} and never closes."),
        m("Add the missing quotation mark, or write two where one is meant as a sign."),
    ),
}

_TABLES: dict[str, Pair] = {
    "no_headings": (
        m("No row of headings was found."),
        m("Point to the row of headings and say which column is which."),
    ),
    "no_rows": (
        m("There is no row below the headings."),
        m("Choose the sheet or the file with the rows in it."),
    ),
    "field_missing": (
        m("No column was found for: {field}."),
        m("Say which column it is, or add it to the file."),
    ),
    "heading_unknown": (
        m("There is no column “{heading}”."),
        m("Choose one of the columns of this file for: {field}."),
    ),
    "column_about_people": (
        m("The column “{heading}” is about people and is never read."),
        m("Choose another column for: {field}."),
    ),
    "formula_without_value": (
        m("The cell holds a formula whose result was never computed."),
        m("Open the file in a spreadsheet program, save it, and load it again."),
    ),
    "formula_error": (
        m("The cell holds a formula with an error."),
        m("Mend the formula, or write its value in its place."),
    ),
    "date_in_cell": (
        m("{value} is a date; it stands where none belongs."),
        m("Format the cell as text and write again what was meant."),
    ),
    "not_a_number": (
        m("“{value}” is no number that fits here."),
        m("Write a number only, without words."),
    ),
    "number_absurd": (
        m("{value} is out of range here: {low} to {high}."),
        m("Correct the number."),
    ),
}

_ROSTER: dict[str, Pair] = {
    "room_missing": (
        m("The row names no room."),
        m("Write the room's label, or delete the row."),
    ),
    "date_for_room": (
        m("{value} is a date, where a room should stand."),
        m(
            "A spreadsheet may have turned a label into a date: format the column as text and "
            "write the label again."
        ),
    ),
    "room_as_power": (
        m("“{value}” is a power of ten, where a room should stand."),
        m(
            "A spreadsheet may have turned a label into a number: format the column as text and "
            "write the label again."
        ),
    ),
    "room_label_odd": (
        m("“{value}” does not look like one room's label."),
        m("Write one row for each room, and labels of up to 24 letters and digits."),
    ),
    "floor_missing": (
        m("The row does not say on which floor room {room} is."),
        m("Write the floor."),
    ),
    "floor_order_unknown": (
        m("Floor “{floor}” does not say between which floors it lies."),
        m("Add a column “Level” with whole numbers from bottom to top, for every floor."),
    ),
    "level_conflict": (
        m("Floor {floor} has level {level} here and level {other_level} in row {other_row}."),
        m("Give the floor the same level in each row."),
    ),
    "level_shared": (
        m("Floors {floor} and {other_floor} both have level {level}; see row {other_row}."),
        m("Give each floor its own level, or call both by one name."),
    ),
    "side_unknown": (
        m("“{value}” is no side of the corridor."),
        m("Write left, right or end; or odd and even."),
    ),
    "sides_assumed": (
        m(
            "There is no column for the side of the corridor, so it was assumed: odd numbers "
            "left and even numbers right where a corridor has both, else all on the left."
        ),
        m("Compare with the building. If it is otherwise, add a column “Side”."),
    ),
    "order_missing": (
        m("The row does not say where along the corridor room {room} lies."),
        m("Write 1 for the first bay of its side, 2 for the next, and so on."),
    ),
    "order_assumed": (
        m(
            "There is no column for the order along the corridor, so rooms were put in the order "
            "of their numbers."
        ),
        m("Compare with the building. If it is otherwise, add a column “Order”."),
    ),
    "same_bay": (
        m(
            "Rooms {room} and {other_room} (row {other_row}) are both in bay {order} of the same "
            "side, so they would lie one in the other."
        ),
        m("Correct the order, the side, the wing or the floor of one of them."),
    ),
    "room_twice": (
        m("Room {room} stands here and in row {other_row}, and the rows differ."),
        m("Keep the row that is right; write all beds of a room into one row."),
    ),
    "row_repeated": (
        m("The row repeats row {other_row} word for word; it was taken once."),
        m("Nothing needs to be done."),
    ),
    "rooms_alike": (
        m("Rooms {room} and {other_room} (row {other_row}) differ by zeros or capitals only."),
        m("If it is one room, delete one of the rows; if there are two, leave them."),
    ),
    "bed_kind_unknown": (
        m("“{value}” is no kind of bed that is known."),
        m("Write one of: {known}."),
    ),
    "bed_kind_not_said": (
        m("“{value}” does not say how the bed is built."),
        m("Write the kind beside it, such as “2 box spring” or “1 sofa bed”."),
    ),
    "bed_count_unclear": (
        m("“{value}” does not say how many beds there are of each kind."),
        m(
            "Write a number before each kind, with a comma between kinds: “2 box spring, "
            "1 sofa bed”."
        ),
    ),
    "no_beds": (
        m("Room {room} has no bed."),
        m("If it has one, write it; a room without beds is kept for its other places."),
    ),
    "encased_unclear": (
        m("“{value}” does not say whether the beds are encased."),
        m("Write yes, no, or how many of the room's beds are encased."),
    ),
    "encased_too_many": (
        m("There are more encased beds, {value}, than beds, {beds}."),
        m("Correct one of the two numbers."),
    ),
    "connecting_unknown": (
        m("Room {room} is said to connect with “{value}”, which is no room of this roster."),
        m("Correct the label, add that room, or leave the cell empty."),
    ),
    "connecting_itself": (
        m("Room {room} is said to connect with itself."),
        m("Write the room on the other side of the door."),
    ),
    "connecting_one_sided": (
        m(
            "Room {room} names a door to room {other_room}, which names none back; it was taken "
            "as a door between both."
        ),
        m("If there is no such door, empty the cell."),
    ),
    "connecting_read_as": (
        m("“{value}” was read as room {room}: they differ by zeros or capitals only."),
        m("Write the label as it stands in the column of rooms."),
    ),
    "connecting_kept_out": (
        m(
            "Room {room} names a door to room {other_room}, whose row was kept out; so the door "
            "was left out too."
        ),
        m("Mend the row of room {other_room} and load the roster again."),
    ),
    "suite_without_name": (
        m("“{value}” does not say to which suite room {room} belongs; it was taken without one."),
        m("Write the suite's name, the same for each of its rooms."),
    ),
}

_STAYS: dict[str, Pair] = {
    "arrival_missing": (
        m("The row has no day of arrival."),
        m("Write it, or delete the row."),
    ),
    "departure_missing": (
        m("There is neither a day of departure nor a number of nights."),
        m("Write one of them."),
    ),
    "booking_day_unread": (
        m("“{value}” is no day of booking that can be read; the booking is taken without it."),
        m("Write the day as year-month-day, or leave the column out."),
    ),
    "not_a_date": (
        m("“{value}” is no date."),
        m("Write dates as year-month-day, such as 2026-03-31."),
    ),
    "date_absurd": (
        m("{value} is too long ago or too far ahead."),
        m("Correct the year."),
    ),
    "day_or_month_first": (
        m(
            "Dates such as “{value}” may be read with the day first or the month first, and no "
            "date of the column decides it."
        ),
        m("Say which one it is."),
    ),
    "dates_mixed": (
        m(
            "“{value}” can only be read with the day first, “{other_value}” in row {other_row} "
            "only with the month first."
        ),
        m("Say which one is right and correct the others, or write year-month-day."),
    ),
    "dates_half_turned": (
        m(
            "The days stand partly as dates and partly as text, such as “{value}”. A spreadsheet "
            "may have swapped day and month of some."
        ),
        m("Compare a few days with the bookings before you load them."),
    ),
    "departure_before_arrival": (
        m("The departure, {departure}, is before the arrival, {arrival}."),
        m("Correct one of the two days."),
    ),
    "stay_absurd": (
        m("From {arrival} to {departure} is more than {limit} nights."),
        m("Correct one of the two days."),
    ),
    "nights_do_not_match": (
        m("From {arrival} to {departure} is not {nights} nights."),
        m("Correct the days or the number of nights."),
    ),
    "day_use": (
        m(
            "On {arrival} the room was let for the day only; without a night it is no stay and was "
            "left out."
        ),
        m("Nothing needs to be done."),
    ),
    "status_unknown": (
        m("“{value}” is no state of a booking that is known."),
        m("Write booked, in house, left, cancelled or no-show."),
    ),
    "status_assumed": (
        m("There is no column of states, so all were read as booked."),
        m("If some were cancelled, add a column “Status”."),
    ),
    "neither_room_nor_type": (
        m("There is neither a room nor a room type."),
        m("Write one of them."),
    ),
    "room_unknown": (
        m("“{value}” is no room of this hotel."),
        m("Correct the label, or load a roster that has this room first."),
    ),
    "room_read_as": (
        m("“{value}” was read as room {room}: they differ by zeros or capitals only."),
        m("If these are two rooms, add the missing one to the roster."),
    ),
    "rooms_not_compared": (
        m("No rooms are known yet, so rooms and types of the bookings were not compared."),
        m("Load the roster first, then the bookings again."),
    ),
    "type_unknown": (
        m("“{value}” is no room type of this hotel."),
        m("Write the type as the roster has it, or add it to the roster's rooms."),
    ),
    "stay_repeated": (
        m("The row repeats row {other_row}; booking {booking} was taken once."),
        m("Nothing needs to be done."),
    ),
    "stays_overlap": (
        m(
            "Room {room} is let twice for the same night: booking {booking} here, and booking "
            "{other_booking} in row {other_row}. Both were taken."
        ),
        m("Ask front desk which one has the room."),
    ),
}


INTAKE_PROBLEMS: dict[str, Pair] = {**_FILES, **_TABLES, **_ROSTER, **_STAYS}
"""By code: what is the matter and how to mend it, marked for translation, not yet said."""
