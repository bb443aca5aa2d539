"""The hotel simulated over many years: what its rules come to, and what other rules change."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from hotelwatch.cli.common import hotel_argument, opened, said_plainly, say_table
from hotelwatch.core.odds.simulation.policies import RINGS, HouseRule, house_rule_of
from hotelwatch.core.odds.simulation.wishes import USUAL_SEED, USUAL_YEARS, SimulationWish
from hotelwatch.core.odds_figures import Stance
from hotelwatch.core.problems import Refusal
from hotelwatch.wording.cycle import stance_text
from hotelwatch.wording.language import _

if TYPE_CHECKING:
    from hotelwatch.core.odds.simulation.measures import Comparison

LONGEST_CYCLE = 730
MOST_YEARS = 20_000
IN_ALL = 100


@click.command("simulate", short_help="Simulate the hotel's years under its rules and others.")
@hotel_argument
@click.option("--years", type=click.IntRange(2, MOST_YEARS), default=USUAL_YEARS)
@click.option("--seed", type=click.IntRange(0), default=USUAL_SEED, help="Same seed, same luck.")
@click.option("--cycle", type=click.IntRange(1, LONGEST_CYCLE), help="Try: days between looks.")
@click.option("--cover/--no-cover", default=None, help="Try: dust covers opened, or not.")
@click.option("--headboard/--no-headboard", default=None, help="Try: headboards off, or not.")
@click.option("--encased/--not-encased", default=None, help="Try: all beds encased, or not.")
@click.option("--traps/--no-traps", default=None, help="Try: traps under the beds, or none.")
@click.option("--ring", type=click.Choice(list(RINGS)), help="Try: neighbours after a find.")
@click.option("--follow-ups", type=click.IntRange(0, 12), help="Try: looks after a treatment.")
@click.option("--follow-up-days", type=click.IntRange(1, 60), help="Try: days between these.")
@click.option("--minutes", type=click.IntRange(1, 1000), help="Try: percent of teams' minutes.")
def simulate(hotel_file: Path, *, years: int, seed: int, **tried: int | bool | str | None) -> None:
    """Say what the hotel's rules come to in a year, and what the rules you try would change.

    Guests, introductions, finds and treatments are drawn by chance; both rules meet the same.
    Nothing of it was observed, most figures behind it are assumed.
    """
    from hotelwatch.core.odds.measured import measured
    from hotelwatch.core.odds.simulation.of_house import lets_of, simulated
    from hotelwatch.wording import simulation as words

    with said_plainly(), opened(hotel_file) as hotel:
        house, today = hotel.house, hotel.today()
        if not house.teams:
            raise Refusal("no_team")
        usual = house_rule_of(house, today)
        other = tried_rule(usual, {key: value for key, value in tried.items() if value is not None})
        wish = SimulationWish(house, hotel.neighbours(), today, usual, other, years, seed)
        told = simulated(wish)
        odds = measured(house, today).rules
        for heading, rule in ((_("As it is:"), usual), (_("Tried:"), other)):
            for line in (heading, *words.rule_lines(rule)) if rule is not None else ():
                click.echo(line)
        for stance in Stance:
            _say_stance(told, stance)
        click.echo("")
        own = lets_of(house, today).is_own
        for line in (
            *words.rests_on_lines(told, odds, is_own_pattern=own),
            *words.mind_lines(other or usual),
        ):
            click.echo(line)


def tried_rule(usual: HouseRule, tried: dict[str, int | bool | str]) -> HouseRule | None:
    """The usual rule with what is tried in its place; None where nothing is."""
    if not tried:
        return None
    ways = {
        "cover": "cover_opened",
        "headboard": "headboard_off",
        "encased": "encased",
        "traps": "traps",
    }
    way = {name: tried[key] for key, name in ways.items() if key in tried}
    days = {"cycle": "cycle_days", "follow_ups": "follow_ups", "follow_up_days": "follow_up_days"}
    changes: dict[str, object] = {name: tried[key] for key, name in days.items() if key in tried}
    if "ring" in tried:
        changes["ring"] = RINGS[str(tried["ring"])]
    if "minutes" in tried:
        share = int(tried["minutes"]) / IN_ALL
        changes["minutes_by_weekday"] = tuple(m * share for m in usual.minutes_by_weekday)
    return replace(usual, way=replace(usual.way, **way), **changes)  # type: ignore[arg-type]


def _say_stance(told: Comparison, stance: Stance) -> None:
    from hotelwatch.wording.simulation import measure_cells

    click.echo("")
    click.echo(_("A year, {stance} settings:").format(stance=stance_text(stance)))
    headings = (_("What"), _("As it is"), _("Tried"), _("Change"))
    rows = [measure_cells(row, stance) for row in told.rows]
    say_table(headings[: len(rows[0])], rows, "")
