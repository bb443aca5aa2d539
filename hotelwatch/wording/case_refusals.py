"""What is not allowed with cases, treatments and house rules, and how to mend it."""

from __future__ import annotations

from hotelwatch.wording.language import marked as m

CASES: dict[str, tuple[str, str]] = {
    "case_moved_on": (
        m("Entry {entry} found something, and more was written down of case {case} since."),
        m("Write the rest down in the case; or take the whole entry back, with all it set going."),
    ),
    "room_not_of_case": (
        m("Room {room} has nothing to do with case {case}."),
        m("Log what was seen in {room} first, or name the case that it belongs to."),
    ),
    "unknown_case": (
        m("There is no case {case}."),
        m("Look up its number in the list of cases; it is written as 2026-003."),
    ),
    "not_to_be_asked": (
        m("Room {room} would not be asked for because of {source}; it can't be struck out."),
        m("Look at the neighbours of {source} and strike out one of those, or none."),
    ),
    "who_moved_missing": (
        m("Nobody is named who moved the guests."),
        m("Name who decided it, by name or by office; no guest's name."),
    ),
    "unknown_booking": (
        m("There is no booking {booking}."),
        m("Copy its number from the list of bookings, or leave it empty."),
    ),
    "cart_needs_name": (m("The cart has no name."), m("Name it, as on its handle.")),
    "nothing_to_ask": (
        m("Case {case} wants no room that was not asked for already."),
        m("Look at its ring: it says why it grows or has stopped."),
    ),
    "floor_not_offered": (
        m("Case {case} does not ask for so much of floor {floor} that all of it is offered."),
        m("Look at its ring, or choose a smaller share in the figures."),
    ),
    "who_saw_missing": (
        m("Nobody is named who saw it."),
        m("Name who saw or reported it, by name or by office; no guest's name."),
    ),
    "who_judged_missing": (
        m("Nobody is named who judged."),
        m("Name the competent person whose judgement this is."),
    ),
    "competence_missing": (
        m("It is not said what makes the person competent."),
        m("Give a licence, a training or an office."),
    ),
    "reentry_before_treatment": (
        m("The room can't be entered again before its treatment on {day}."),
        m("Give the time of re-entry from the firm's report."),
    ),
    "treatment_needs": (
        m("The treatment's record lacks this: {field}."),
        m("Copy it from the licensed firm's report."),
    ),
    "not_in_quarantine": (
        m("Room {room} is not in quarantine because of case {case}."),
        m("Look up which case closed the room, and since when."),
    ),
    "lifting_to_come": (
        m("A quarantine of room {room} can't be lifted for a moment that has not come yet."),
        m("Lift it when the moment has come."),
    ),
    "lifting_needs_name": (
        m("Nobody is named who lifts the quarantine of room {room}."),
        m("Name the person who decides."),
    ),
    "lifting_needs_reason": (
        m("The conditions for room {room} are not met, and no reason is given."),
        m("Wait for the conditions, or give the reason of the person who decides."),
    ),
    "lifting_needs_competence": (
        m("It is not said what makes the person competent who gives room {room} back."),
        m("Name the licence, training or office, or lift it on a named person's reason."),
    ),
    "ending_needs_name": (
        m("Nobody is named who closes case {case}."),
        m("Name the person who decides."),
    ),
    "ending_needs_reason": (
        m("The watch of case {case} is not over, and no reason is given."),
        m("Wait until it is over, or give the reason of the person who decides."),
    ),
    "rooms_in_quarantine": (
        m("Case {case} still keeps rooms in quarantine."),
        m("Give the rooms back first."),
    ),
    "case_not_watched": (
        m("Case {case} is not under watch."),
        m("Only a case whose rooms were given back is closed; look up where it stands."),
    ),
    "watch_not_over": (
        m("Only {counted} of {need} clean covered days of case {case} have gone by."),
        m("Wait for the others, or close it on a named person's reason."),
    ),
    "word_needs_giver": (
        m("It is not said who gave the word to release in case {case}."),
        m("Name the firm or the office."),
    ),
    "monitor_needs_label": (m("The trap has no label."), m("Give it a number or a name.")),
    "unknown_monitor": (
        m("No trap {monitor} stands anywhere."),
        m("Look at its label, or write down first where it was placed."),
    ),
    "who_placed_missing": (
        m("Nobody is named who had trap {monitor} in hand."),
        m("Name the person, by name or by code."),
    ),
    "read_before_placed": (
        m("Trap {monitor} was not there yet on that day."),
        m("Correct the day."),
    ),
    "conditions_missing": (
        m("Room {room} does not yet meet all conditions of case {case}."),
        m("Do what is missing first, or lift it on a named person's reason."),
    ),
}

CHOICES: dict[str, tuple[str, str]] = {
    "unknown_profile": (
        m("There is no set of local rules {profile}."),
        m("Choose one of: {among}."),
    ),
    "unknown_rule": (m("There is no rule {rule}."), m("Choose one of: {among}.")),
    "unknown_choice": (
        m("{choice} is no choice for {rule}."),
        m("Choose from: {among}."),
    ),
    "unknown_figure": (
        m("There is no figure {figure}."),
        m("Look up its name in the list of figures."),
    ),
    "figure_out_of_range": (
        m("{value} lies outside what is plausible for {figure}."),
        m("Choose from {low} to {high} {unit}."),
    ),
    "figure_needs_reason": (
        m("It is not said why the hotel's figure differs."),
        m("Give a reason; it stands in the month's book."),
    ),
    "holiday_needs_name": (m("The holiday has no name."), m("Name it.")),
    "unknown_notice": (m("There is no notice {notice}."), m("Choose one of: {among}.")),
    "notice_needs_receiver": (
        m("It is not said who was told."),
        m("Name the office, or write guest; never a guest's name."),
    ),
    "unknown_duty": (
        m("Case {case} has no such duty: {duty}."),
        m("Look up what is next in the case."),
    ),
    "firm_needs_name": (m("It is not said which firm."), m("Name the licensed firm.")),
    "who_led_missing": (
        m("It is not said who of the house was there."),
        m("Name who was there, or who took the firm's report."),
    ),
    "dog_needs_rooms": (
        m("It is not said which rooms the dog was led through."),
        m("Name them all, those where it was silent too."),
    ),
    "alert_elsewhere": (
        m("An alert in room {room}, where the dog was not led."),
        m("Name the room among those it was led through, or leave the alert out."),
    ),
    "firm_needs_licence": (
        m("The licence of {firm} is not said."),
        m("Copy its number from the firm's papers."),
    ),
    "order_needs_rooms": (
        m("It is not said which rooms are to be treated."),
        m("Choose at least one room of the case."),
    ),
    "care_needs_name": (m("It is not said who did it."), m("Name who did it.")),
    "item_needs_name": (m("It is not said what was thrown away."), m("Name the thing.")),
    "log_kept_already": (
        m("This very file is kept already: log {log} of room {room}."),
        m("Take log {log} back first if it is to be read in another way."),
    ),
    "paper_too_large": (
        m("{file} is too large to be kept."),
        m("Keep files of up to {most} MB; export a shorter log, or scan less finely."),
    ),
    "paper_kept_already": (
        m("This very file is kept with the case already: {file}."),
        m("Choose another file; this one needs no second copy."),
    ),
    "not_a_paper": (
        m("{file} is no kind of file that is kept as a paper."),
        m("Keep a text, a table, a picture, a mail or a PDF: {kinds}."),
    ),
    "no_specimens": (
        m("No specimen of case {case} is written down."),
        m("Write one down first."),
    ),
    "no_specimen": (
        m("Case {case} has no specimen {label}."),
        m("Write the specimen down first, or choose another one."),
    ),
    "same_case": (m("Case {case} can't go into itself."), m("Name two cases.")),
    "case_not_open": (
        m("Case {case} is closed; nothing goes into it any more."),
        m("Join the other way round, or leave them apart."),
    ),
    "joining_needs_reason": (
        m("It is not said why the cases belong together."),
        m("Give a reason; it stays in the record."),
    ),
    "splitting_needs_reason": (
        m("It is not said why the case is split."),
        m("Give a reason; it stays in the record."),
    ),
    "nothing_to_split": (
        m("It is not said which signs leave case {case}."),
        m("Choose at least one sign."),
    ),
    "not_of_case": (
        m("Entry {entry} wrote down no sign of case {case}."),
        m("Look up the entries of the case's signs."),
    ),
    "nothing_left": (
        m("No sign would be left in case {case}."),
        m("Leave at least one sign in it."),
    ),
    "specimen_needs_label": (
        m("The specimen has no label."),
        m("Write a label on bag or tube, and here the same."),
    ),
    "specimen_needs_place": (
        m("It is not said where the specimen is."),
        m("Name the place, or to whom it went."),
    ),
    "what_was_it_missing": (
        m("It is not said what it was instead."),
        m("Choose from the look-alikes, or write it in a word or two."),
    ),
}
