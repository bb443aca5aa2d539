"""Commands for training: who was trained in what, and who is due again."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from hotelwatch.actions.trainings import record_training
from hotelwatch.cli.common import by_option, hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.people_facts import TrainingRecorded, TrainingTopic
from hotelwatch.core.trainings import overdue, training_states
from hotelwatch.wording.dates import day_text
from hotelwatch.wording.language import _
from hotelwatch.wording.names import label

TOPICS = {topic.value.removeprefix("training_"): topic for topic in TrainingTopic}


@click.command("training", short_help="Write down that somebody was trained.")
@hotel_argument
@click.argument("person")
@click.argument("topic", type=click.Choice(tuple(TOPICS)))
@click.option("--language", required=True, help="In which language, as it is called.")
@click.option("--on", type=click.DateTime(["%Y-%m-%d"]), default=None, help="Default: today.")
@click.option("--trained-by", required=True, help="Who trained.")
@by_option
def training(
    hotel_file: Path,
    person: str,
    topic: str,
    *,
    language: str,
    on: datetime | None,
    trained_by: str,
    by: str,
) -> None:
    """Write down that PERSON was trained in TOPIC, in a language that they understand."""
    with said_plainly(), opened(hotel_file, by) as hotel:
        day = on.date() if on else hotel.today()
        told = TrainingRecorded(person, TOPICS[topic], language, day, trained_by)
        record_training(hotel, told)
        click.echo(
            _("{person}: {topic}, {day}.").format(
                person=person, topic=label(TOPICS[topic]), day=day_text(day)
            )
        )


@click.command("trainings", short_help="Who was trained in what; who is due again.")
@hotel_argument
@click.option("--overdue", "late", is_flag=True, help="Only what is overdue.")
def trainings(hotel_file: Path, *, late: bool) -> None:
    """Who was trained in what and when, and by when it comes again."""
    with said_plainly(), opened(hotel_file) as hotel:
        states = training_states(hotel.house, hotel.today())
        say_table(
            (_("Person"), _("In what"), _("Last on"), _("Again by")),
            (
                (
                    state.person,
                    label(state.subject),
                    day_text(state.last.on) if state.last else _("nothing written down"),
                    _("overdue")
                    if state.is_overdue
                    else day_text(state.due_on)
                    if state.due_on
                    else "",
                )
                for state in (overdue(states) if late else states)
            ),
            _("Nothing to list here."),
        )
