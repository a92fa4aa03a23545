"""`marram trial stations`: players do tasks under the text in force and under the draft."""

from __future__ import annotations

from pathlib import Path

import click

from marram.cli.common import json_option
from marram.cli.trial.exercise_options import FILE, bring_out, out_option, seed_option, table_option, trial_argument

_tasks = click.option("--tasks", required=True, type=FILE, help="The tasks.")


@click.group()
def stations() -> None:
    """What a change does where its situation is set up: each player does the same task under both texts."""


@stations.command()
@trial_argument
@_tasks
@click.option("--players", default=12, show_default=True, type=click.IntRange(1, 500), help="How many players.")
@click.option(
    "--sd", "spreads", multiple=True, metavar="OUTCOME=NUMBER", help="Standard deviation between players, to tell how many it needs."
)
@seed_option
@out_option
@json_option
def plan(trial: Path, *, tasks: Path, players: int, spreads: tuple[str, ...], seed: str, out: Path | None, as_json: bool) -> None:
    """Draw who does which task of a TRIAL under which text first, with sheets to print and a table to bring back."""
    from marram.cli.trial.plan_command import spread_told
    from marram.office.exercises.draw_exercise import draw_stations, station_sheets
    from marram.office.workroom import Workroom

    room = Workroom()
    overlay = room.trial(trial)
    written = room.tasks(tasks, overlay)
    drawn = draw_stations(overlay, written, players=players, seed=seed, sd=spread_told(spreads))
    bring_out(drawn, lambda: station_sheets(drawn, written, room.book(overlay.on[-1])), out, as_json=as_json)


@stations.command()
@trial_argument
@_tasks
@table_option
@json_option
def report(trial: Path, *, tasks: Path, table: Path, as_json: bool) -> None:
    """Say of each change of a TRIAL that had a station what it did there."""
    from marram.answers.exercises.exercise_answer import stations_answer
    from marram.answers.shape import json_text
    from marram.cli.trial.exercise_text import stations_text
    from marram.office.exercises.weigh_exercise import weigh_station_exercise
    from marram.office.workroom import Workroom

    room = Workroom()
    overlay = room.trial(trial)
    back = room.tries_brought_back(table, room.tasks(tasks, overlay), overlay)
    weighed = weigh_station_exercise(overlay, back)
    click.echo(json_text(stations_answer(weighed)) if as_json else stations_text(weighed))
