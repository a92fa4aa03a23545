"""`marram trial stations`: players do tasks under the text in force and under the draft."""

from __future__ import annotations

from pathlib import Path

import click

from marram.cli.common import folder_at, json_option, write_whole

_FILE = click.Path(exists=True, path_type=Path, dir_okay=False)
_trial = click.argument("trial", type=_FILE)
_tasks = click.option("--tasks", required=True, type=_FILE, help="The tasks.")


@click.group()
def stations() -> None:
    """What a change does where its situation is set up: each player does the same task under both texts."""


@stations.command()
@_trial
@_tasks
@click.option("--players", default=12, show_default=True, type=click.IntRange(1, 500), help="How many players.")
@click.option(
    "--sd", "spreads", multiple=True, metavar="OUTCOME=NUMBER", help="Standard deviation between players, to tell how many it needs."
)
@click.option("--seed", required=True, help="Text from which it is drawn; keep it closed until the last day.")
@click.option("-o", "--out", type=click.Path(path_type=Path, file_okay=False), help="Write sheets.pdf and table.csv to a folder.")
@json_option
def plan(trial: Path, *, tasks: Path, players: int, spreads: tuple[str, ...], seed: str, out: Path | None, as_json: bool) -> None:
    """Draw who does which task of a TRIAL under which text first, with sheets to print and a table to bring back."""
    from marram.answers.exercises.exercise_answer import exercise_plan_answer
    from marram.answers.shape import json_text
    from marram.cli.trial.exercise_text import drawn_text
    from marram.cli.trial.plan_command import spread_told
    from marram.office.exercises.draw_exercise import draw_stations, station_sheets
    from marram.office.workroom import Workroom

    room = Workroom()
    overlay = room.trial(trial)
    written = room.tasks(tasks, overlay)
    drawn = draw_stations(overlay, written, players=players, seed=seed, sd=spread_told(spreads))
    if out is not None:
        folder = folder_at(out)
        write_whole(folder / "table.csv", drawn.table)
        write_whole(folder / "sheets.pdf", station_sheets(drawn, written))
        click.echo(f"Written: {out / 'table.csv'}, {out / 'sheets.pdf'}", err=True)
    click.echo(json_text(exercise_plan_answer(drawn)) if as_json else drawn_text(drawn))


@stations.command()
@_trial
@_tasks
@click.option("--table", required=True, type=_FILE, help="The table as it came back.")
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
