"""The command line: every job of the window, so that all can be scripted."""

from __future__ import annotations

from pathlib import Path

import click

import hotelwatch
from hotelwatch.cli import (
    backup_commands,
    book_commands,
    calendar_commands,
    case_commands,
    choice_commands,
    cycle_commands,
    demo_command,
    desk_commands,
    dog_commands,
    draw_commands,
    duty_commands,
    file_commands,
    hand_commands,
    joining_commands,
    keeping_commands,
    list_commands,
    load_commands,
    looking_back_commands,
    odds_commands,
    people_commands,
    release_commands,
    report_commands,
    ring_commands,
    round_commands,
    round_lists,
    rule_commands,
    sheet_commands,
    simulate_commands,
    since_commands,
    stair_commands,
    survey_commands,
    training_commands,
    treatment_commands,
    trial_commands,
    why_commands,
)
from hotelwatch.cli.common import desk_at_hand, said_plainly
from hotelwatch.cli.seat import let_people_say_who
from hotelwatch.core.problems import Refusal

COMMANDS = (
    file_commands.new_hotel,
    file_commands.describe,
    load_commands.load,
    file_commands.cycle,
    file_commands.risk,
    file_commands.team,
    file_commands.teams,
    file_commands.wings,
    stair_commands.stairs,
    stair_commands.stair,
    draw_commands.draw,
    calendar_commands.team_days,
    calendar_commands.closed_days,
    calendar_commands.season,
    calendar_commands.furniture_moved,
    hand_commands.pin,
    hand_commands.forbid_day,
    hand_commands.swap,
    hand_commands.arrange_visit,
    hand_commands.decline_visit,
    hand_commands.ask_night,
    hand_commands.answer_night,
    report_commands.plan,
    why_commands.why_not,
    why_commands.what_if,
    cycle_commands.cycle_worth,
    simulate_commands.simulate,
    sheet_commands.sheet,
    round_commands.round_page,
    round_commands.calendar,
    case_commands.record,
    case_commands.sighting,
    case_commands.judge,
    joining_commands.join,
    joining_commands.split,
    joining_commands.specimen,
    joining_commands.specimen_label,
    treatment_commands.firm,
    treatment_commands.order,
    treatment_commands.treatment,
    treatment_commands.probe_log,
    treatment_commands.paper,
    treatment_commands.care,
    treatment_commands.discard,
    release_commands.release,
    release_commands.lift,
    release_commands.release_word,
    release_commands.close_case,
    release_commands.monitor,
    release_commands.read_monitor,
    dog_commands.dog_visit,
    trial_commands.trial,
    case_commands.take_back_entry,
    people_commands.list_people,
    people_commands.person,
    ring_commands.ring_of_case,
    since_commands.since,
    ring_commands.cart_of,
    ring_commands.guest_moved,
    duty_commands.list_next,
    duty_commands.told,
    duty_commands.notice_text,
    duty_commands.owner_of,
    duty_commands.case_paper,
    sheet_commands.case_sheet,
    odds_commands.odds,
    survey_commands.survey,
    looking_back_commands.looking_back,
    rule_commands.rules,
    rule_commands.choose_rules,
    rule_commands.compare_rules_with_law,
    rule_commands.load_own_rules,
    rule_commands.rules_template,
    choice_commands.choose,
    choice_commands.figure,
    choice_commands.holiday,
    list_commands.listing,
    desk_commands.move_guest_from,
    desk_commands.rank_room_types,
    desk_commands.explain_let_of,
    desk_commands.desk_calendar,
    report_commands.front_desk_list,
    book_commands.month_book,
    book_commands.check_book,
    training_commands.training,
    training_commands.trainings,
    report_commands.check_file,
    backup_commands.back_up,
    backup_commands.restore,
    keeping_commands.expire,
    keeping_commands.stop_expiry,
    keeping_commands.export,
    keeping_commands.take_in,
    demo_command.demo,
)


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(hotelwatch.__version__, prog_name="hotelwatch")
def commands() -> None:
    """Find bed bugs early in a hotel's beds, and prove what was looked at.

    Without a command the window opens.
    """


@commands.command("open", short_help="Open the window.")
@click.argument(
    "hotel_file", metavar="[HOTEL_FILE]", required=False, type=click.Path(path_type=Path)
)
def open_window(hotel_file: Path | None) -> None:
    """Open the window, on a hotel's file if one is named."""
    desk = desk_at_hand()
    with said_plainly():
        if desk.open_window is None:
            raise Refusal("no_window")
        raise SystemExit(desk.open_window(hotel_file))


for command in COMMANDS:
    commands.add_command(command)
for command in (
    round_lists.list_calendar,
    release_commands.list_monitors,
    dog_commands.list_dog_visits,
    round_lists.list_by_hand,
    round_lists.list_sooner,
    round_lists.list_to_arrange,
    round_lists.list_backlog,
    stair_commands.list_stairs,
    backup_commands.list_backups,
):
    list_commands.listing.add_command(command)
let_people_say_who(commands)
