"""`marram trial papers`: the calendar of a plan, blank recording sheets, and the form after the round, to print."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, write_whole
from marram.cli.writing import file_option

if TYPE_CHECKING:
    from marram.answers.trials.papers_answer import TrialPapersAnswer

_FILE = click.Path(exists=True, path_type=Path, dir_okay=False)


@click.command()
@click.argument("trial", type=_FILE)
@click.option("--plan", "plan_file", type=_FILE, help="The frozen plan: its calendar comes first.")
@file_option("-o", "--out", required=True, help="Write the papers to a .pdf.")
@json_option
def papers(trial: Path, *, plan_file: Path | None, out: Path, as_json: bool) -> None:
    """Print what a TRIAL needs on its days: calendar, a blank sheet for each recorder of what it observes, the form for players."""
    from marram.answers.shape import json_text
    from marram.answers.trials.papers_answer import trial_papers_answer
    from marram.office.trials.trial_papers import make_papers, papers_file
    from marram.office.workroom import Workroom

    room = Workroom()
    overlay = room.trial(trial)
    made = make_papers(overlay, room.book(overlay.on[-1]), None if plan_file is None else room.plan(plan_file))
    write_whole(out, papers_file(made, out.suffix.lower()))
    click.echo(f"Written: {out}", err=True)
    answer = trial_papers_answer(made)
    click.echo(json_text(answer) if as_json else _text(answer))


def _text(answer: TrialPapersAnswer) -> str:
    lines = [answer.trial]
    if answer.calendar:
        lines.append(f"Calendar: {len(answer.calendar)} lines")
    for sheet in answer.sheets:
        lines.append(f"{sheet.title}: {', '.join(dict.fromkeys(column for table in sheet.tables for column in table.written))}")
    if answer.form:
        lines.append(f"After the round: {sum(len(part.questions) for part in answer.form)} questions")
    return "\n".join(lines)
