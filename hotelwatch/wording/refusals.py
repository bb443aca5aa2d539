"""What is not allowed now, why, and what would allow it: one pair of sentences per code."""

from __future__ import annotations

from hotelwatch.wording.backups import BACKUPS
from hotelwatch.wording.book_check import BOOKS
from hotelwatch.wording.case_refusals import CASES, CHOICES
from hotelwatch.wording.drawing import DRAWN
from hotelwatch.wording.hotel_refusals import HOTEL
from hotelwatch.wording.language import marked as m
from hotelwatch.wording.people import REFUSED_PEOPLE
from hotelwatch.wording.retention import RETENTION
from hotelwatch.wording.round_refusals import ROUNDS
from hotelwatch.wording.rule_problems import RULE_REFUSALS
from hotelwatch.wording.sheet_refusals import SHEETS
from hotelwatch.wording.trial_refusals import TRIALS
from hotelwatch.wording.undo_refusals import UNDOING

Pair = tuple[str, str]
"""What is the matter, and how to mend it."""

FILE: dict[str, Pair] = {
    "no_such_file": (
        m("There is no file {file}."),
        m("Look whether it was moved or renamed, and choose it again."),
    ),
    "no_such_folder": (
        m("There is no folder {folder}."),
        m("Make the folder first, or choose another one."),
    ),
    "file_exists": (
        m("There is already a file {file}; it was left as it is."),
        m("Choose another name, or move the old file away."),
    ),
    "not_a_hotel_file": (
        m("{file} is no hotel file of this program; it was left as it is."),
        m("Choose the hotel's file. A roster or a list of bookings is loaded, not opened."),
    ),
    "newer_file": (
        m("{file} was written by a newer version of this program; it was left as it is."),
        m("Install the newer version on this computer as well, then open the file."),
    ),
    "older_file": (
        m("{file} was written by an earlier trial of this program; it was left as it is."),
        m("Open it with the program that wrote it, or start the hotel's file anew."),
    ),
    "damaged_file": (
        m("{file} is damaged; it was left as it is."),
        m("Keep it aside, and open the latest backup. Do not write to the damaged one."),
    ),
    "read_only_file": (
        m("{file} may be read but not written to; nothing was written down."),
        m("Ask for the right to write to the file and its folder, or copy it to another place."),
    ),
    "on_network_share": (
        m("{file} lies on a network share, where two programs can damage it."),
        m("Move the file to a disk of this computer, and open it there."),
    ),
    "file_busy": (
        m("Another program is writing to the hotel's file; nothing was written down."),
        m("Wait a moment and try again. If it goes on, close the other window."),
    ),
    "disk_full": (
        m("The disk is full; nothing was written down."),
        m("Make room on the disk, then try again."),
    ),
    "disk_failed": (
        m("The disk did not answer; nothing was written down."),
        m("Look whether the disk is still connected, then try again. Keep a backup."),
    ),
    "file_replaced": (
        m("Another file was put in the place of {file} while it was open."),
        m("Close the program and open the file again; what you just did was not written down."),
    ),
    "no_such_entry": (
        m("There is no entry {entry} to correct."),
        m("Look up the entry's number in the record."),
    ),
    "already_corrected": (
        m("Entry {entry} was already corrected by entry {by_entry}."),
        m("Correct the later entry; if that one took it back, write down anew what was right."),
    ),
    "not_to_be_taken_back": (
        m("Entry {entry} can't be taken back: {action}."),
        m("Write down anew what is right; the later word counts."),
    ),
    "correction_needs_reason": (
        m("A correction needs a reason."),
        m("Write in a few words why entry {entry} is corrected."),
    ),
    "not_a_photo": (
        m("{file} is not a photo that can be kept."),
        m("Choose a JPEG, PNG or WebP picture."),
    ),
    "photo_too_large": (
        m("The photo {file} is too large: more than {most} pixels."),
        m("Save it smaller, or take it again with fewer pixels."),
    ),
}

CHECKS: dict[str, Pair] = {
    "day_to_come": (
        m("{day} has not come yet."),
        m("Write down what was done, on the day it was done; today is the latest."),
    ),
    "moment_to_come": (
        m("{moment} has not come yet."),
        m("Give the moment at which it was seen; now is the latest."),
    ),
    "who_looked_missing": (
        m("Nobody is named who looked at room {room}."),
        m("Name who looked, by name or by code."),
    ),
    "visit_to_come": (
        m("{moment} has not come yet."),
        m("Give when the look began and ended, as far as you know, or leave it empty."),
    ),
    "unknown_form_version": (
        m("There is no version {version} of the form; the newest is {newest}."),
        m("Its number stands at the top of each page of the sheet."),
    ),
    "unknown_aid": (
        m("{aid} is no aid that is known."),
        m("Choose one of those that are offered."),
    ),
    "named_twice": (
        m("{name} is named twice for room {room}; one person is not two."),
        m("Name each person who was there once."),
    ),
    "entry_of_other_rooms": (
        m("Entry {entry} holds no check of room {room} that counts."),
        m("Look up which entry holds it: the list of entries names the rooms."),
    ),
    "moment_of_find_missing": (
        m("Nobody said when on {day} the find in room {room} was made."),
        m("Give its time: deadlines and the quarantine count from it."),
    ),
    "found_on_another_day": (
        m("The find in room {room} is not of the day of its check, {day}."),
        m("Give the time of that day, or correct the day of the check."),
    ),
    "nothing_looked_at": (
        m("Nothing was said about room {room}."),
        m("Tick what was looked at, or say why it was not."),
    ),
    "unknown_place": (
        m("{where} has no place “{place}”."),
        m("Choose one of the places on its sheet; another kind of bed has other places."),
    ),
    "seen_and_not_seen": (
        m("{where}: “{place}” was marked both as looked at and as not looked at."),
        m("Keep one of the two."),
    ),
    "found_but_not_seen": (
        m("{where}: something was found at “{place}”, which was not marked as looked at."),
        m("Mark the place as looked at, or take the find away."),
    ),
    "why_not_seen_missing": (
        m("{where}: it is not said why “{place}” was not looked at."),
        m("Choose a reason, such as no second person or guest's belongings in the way."),
    ),
    "other_reason_needs_note": (
        m("{where}: “{place}” was left for another reason, and no note says which."),
        m("Write the reason into the note, in a few words."),
    ),
    "unknown_sign": (
        m("{where}: “{sign}” is no known sign."),
        m("Choose one of the signs of the list, or write it into the note."),
    ),
    "needs_two_people": (
        m("{where}: looking at “{place}” takes {people} people, and fewer are named."),
        m("Name everybody who was there, or mark the place as not looked at, no second person."),
    ),
}

MONTHS: dict[str, Pair] = {
    "no_such_month": (m("{month} is no month."), m("Write year and month, as 2026-11.")),
    "month_to_come": (
        m("{month} has not begun yet."),
        m("Choose this month or an earlier one."),
    ),
    "month_not_over": (
        m("{month} is not over yet."),
        m("Close it on the first day of the next month or later."),
    ),
    "let_not_explained": (
        m("Room {room} was let although blocked, the night of {day}, and nobody said why."),
        m("Explain it on front desk's page, or with explain-let; then close the month."),
    ),
    "no_such_let": (
        m("Room {room} was not let against a block the night of {day}."),
        m("Look up room and night on front desk's list."),
    ),
    "let_needs_note": (
        m("It is not said how room {room} came to be let."),
        m("Write in a few words how it came."),
    ),
    "let_needs_name": (
        m("Nobody is named who explains why room {room} was let."),
        m("Name the person whose words these are."),
    ),
    "room_is_blocked": (
        m("Room {room} is itself not to be sold."),
        m("Choose another room for the guest."),
    ),
    "nobody_to_move": (
        m("No guest is to be moved from room {room}."),
        m("Look up room and booking on front desk's list."),
    ),
    "no_room_to_move_to": (
        m("No room is proposed for the guest of room {room}."),
        m("Name a room with --to, or see on front desk's list why there is none."),
    ),
    "type_twice": (
        m("Room type {room_type} stands twice in the order."),
        m("Name each type once, the plainest first."),
    ),
    "nothing_due": (
        m("No case has a deadline; there is nothing to put into a calendar."),
        m("Write the calendar once a case is open."),
    ),
    "nothing_blocked": (
        m("No room is blocked; there is nothing to put into a calendar."),
        m("Write the calendar once a room is not to be sold."),
    ),
    "month_closed_already": (
        m("{month} is closed already."),
        m("What is written down later stands in a later month's book."),
    ),
    "month_not_at_hand": (
        m("The checks of {month} were not read from the file."),
        m("Open the file again with all its checks, then make the month's book."),
    ),
}

PAPERS: dict[str, Pair] = {
    "qt_breaks_on_this_python": (
        m("The window's library {qt} breaks on Python {python}."),
        m("Install another version of it, as the program's set-up commands do."),
    ),
    "no_window": (
        m("The window can't be opened on this computer."),
        m("Install the program with its window, or use its commands."),
    ),
    "not_a_workbook_name": (
        m("{path} is not the name of a workbook."),
        m("Let the name end in .xlsx."),
    ),
    "not_a_calendar_name": (
        m("{path} is not the name of a calendar."),
        m("Let the name end in .ics."),
    ),
    "no_round_on_days": (
        m("No team has a room from {from_on} to {until_on}."),
        m("Plan and publish a round for these days first, or name other days."),
    ),
    "nothing_published_ahead": (
        m("No round is published from today on."),
        m("Plan and publish one, ask for the draft, or name a month."),
    ),
    "too_many_weeks_for_page": (
        m("The days from {from_on} to {until_on} are more than a page holds."),
        m("Name a month, or plan at most {most} weeks."),
    ),
    "target_is_folder": (
        m("{path} is a folder."),
        m("Give the name of a file in it."),
    ),
    "workbook_open": (
        m("{path} is open in another program, so it was left as it is."),
        m("Close it there, or choose another name."),
    ),
    "read_only_target": (
        m("{path} may not be changed, so it was left as it is."),
        m("Choose another name, or ask for the right to change the file."),
    ),
    "read_only_folder": (
        m("Nothing may be written to the folder of {path}."),
        m("Choose another folder, or ask for the right to write to this one."),
    ),
    "workbook_not_written": (
        m("{path} could not be written: {why}"),
        m("Try another folder. What was recorded in the hotel's file is not touched by this."),
    ),
}

SETTINGS: dict[str, Pair] = {
    "settings_heading_missing": (
        m("{file} has no column for: {heading}."),
        m("Add the column with this heading."),
    ),
    "settings_row_wrong": (
        m("{file}, row {row}: a number or a word there can't be read."),
        m("Compare the row with the others; write numbers without units."),
    ),
}

REFUSALS: dict[str, Pair] = {
    **FILE,
    **BACKUPS,
    **HOTEL,
    **DRAWN,
    **ROUNDS,
    **CHECKS,
    **CASES,
    **CHOICES,
    **RETENTION,
    **MONTHS,
    **PAPERS,
    **SETTINGS,
    **SHEETS,
    **TRIALS,
    **UNDOING,
    **REFUSED_PEOPLE,
    **BOOKS,
    **RULE_REFUSALS,
}
