"""What the commands of both exercises share: their options, and what is written and printed of an exercise that was drawn."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import folder_at, write_set
from marram.cli.writing import folder_option

if TYPE_CHECKING:
    from marram.office.exercises.draw_exercise import ExerciseDrawn

FILE = click.Path(exists=True, path_type=Path, dir_okay=False)
trial_argument = click.argument("trial", type=FILE)
seed_option = click.option("--seed", required=True, help="Text from which it is drawn; keep it closed until the last day.")
out_option = folder_option("-o", "--out", help="Write sheets.pdf and table.csv to a folder.")
table_option = click.option("--table", required=True, type=FILE, help="The table as it came back.")


def bring_out(drawn: ExerciseDrawn, set_sheets: Callable[[], bytes], out: Path | None, *, as_json: bool) -> None:
    """Write the table and the sheets of an exercise where a folder is named, and print what was drawn."""
    from marram.answers.exercises.exercise_answer import exercise_plan_answer
    from marram.answers.shape import json_text
    from marram.cli.trial.exercise_text import drawn_text

    if out is not None:
        folder = folder_at(out)
        write_set(folder, {"table.csv": drawn.table, "sheets.pdf": set_sheets()})
        click.echo(f"Written: {out / 'table.csv'}, {out / 'sheets.pdf'}", err=True)
    click.echo(json_text(exercise_plan_answer(drawn)) if as_json else drawn_text(drawn))
