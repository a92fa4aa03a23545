"""`marram trial clarity`: officials rule written incidents under the text in force and under the draft."""

from __future__ import annotations

from pathlib import Path

import click

from marram.cli.common import json_option
from marram.cli.trial.exercise_options import FILE, bring_out, out_option, seed_option, table_option, trial_argument

_incidents = click.option("--incidents", required=True, type=FILE, help="The written incidents.")


@click.group()
def clarity() -> None:
    """How clear a draft is: the same incidents, ruled by several officials under both texts."""


@clarity.command()
@trial_argument
@_incidents
@click.option("--officials", default=8, show_default=True, type=click.IntRange(1, 200), help="How many officials rule.")
@click.option("--agreement", type=click.FloatRange(0, 1), help="Suppose so much agreement now, to tell how many rulings it needs.")
@click.option("--matters", default=0.1, show_default=True, type=click.FloatRange(0.01, 1), help="Smallest difference that matters.")
@seed_option
@out_option
@json_option
def plan(
    trial: Path,
    *,
    incidents: Path,
    officials: int,
    agreement: float | None,
    matters: float,
    seed: str,
    out: Path | None,
    as_json: bool,
) -> None:
    """Draw who rules which incident of a TRIAL under which text, with sheets to print and a table to bring back."""
    from marram.office.exercises.draw_exercise import clarity_sheets, draw_clarity
    from marram.office.workroom import Workroom

    room = Workroom()
    written = room.written_incidents(incidents)
    overlay = room.trial(trial)
    drawn = draw_clarity(overlay, written, officials=officials, seed=seed, agreement=agreement, matters=matters)
    bring_out(drawn, lambda: clarity_sheets(drawn, written, room.book(overlay.on[-1])), out, as_json=as_json)


@clarity.command()
@trial_argument
@_incidents
@table_option
@click.option(
    "--matters", default=0.1, show_default=True, type=click.FloatRange(0.01, 1), help="Smallest difference that matters, a share."
)
@json_option
def report(trial: Path, *, incidents: Path, table: Path, matters: float, as_json: bool) -> None:
    """Say whether officials rule the incidents of a TRIAL more alike under the draft, and on which they split."""
    from marram.answers.exercises.exercise_answer import clarity_answer
    from marram.answers.shape import json_text
    from marram.cli.trial.exercise_text import clarity_text
    from marram.office.exercises.weigh_exercise import weigh_clarity_exercise
    from marram.office.workroom import Workroom

    room = Workroom()
    written = room.written_incidents(incidents)
    back = room.rulings_brought_back(table, written)
    weighed = weigh_clarity_exercise(room.trial(trial), written, back, room.catalogue, matters=matters)
    click.echo(json_text(clarity_answer(weighed)) if as_json else clarity_text(weighed))
