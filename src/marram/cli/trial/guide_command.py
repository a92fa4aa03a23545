"""`marram trial guide`: the guide for players."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option
from marram.cli.today import today_option
from marram.cli.trial.guide_files import GUIDE_FORMS, player_of, player_options, write_guide
from marram.cli.writing import folder_option

if TYPE_CHECKING:
    from marram.office.trials.guide_file import GuideForm


@click.command()
@click.argument("trial", metavar="TRIAL")
@click.option("--course", "course_file", required=True, type=click.Path(path_type=Path), help="The course on which it is shown.")
@click.option("--on", "base", metavar="BOOK", help="The book that the trial lies on; the latest edition that it is written for if none.")
@click.option("--procedure", "procedures", multiple=True, metavar="P", help="Show this procedure; may be repeated. Chosen if none.")
@click.option("--each", default=2, show_default=True, type=click.IntRange(1, 20), help="How many procedures to show for each change.")
@click.option("--form", "forms", multiple=True, type=click.Choice(GUIDE_FORMS), help="Which forms to write; all if none.")
@folder_option("--out", "-o", required=True, help="The folder to write to.")
@today_option
@player_options
@json_option
def guide(
    trial: str,
    course_file: Path,
    base: str | None,
    procedures: tuple[str, ...],
    *,
    each: int,
    forms: tuple[GuideForm, ...],
    out: Path,
    today: Path | None,
    hand: str,
    longest_club: float,
    club: str,
    as_json: bool,
) -> None:
    """Make the guide of a TRIAL: before, now, what stays forbidden, and the steps at real places of the course."""
    from marram.office.courses.find_places import known_procedure
    from marram.office.trials.make_guide import base_of, guide_trial
    from marram.office.workroom import Workroom

    room = Workroom()
    overlay = room.overlay(trial)
    book = room.book(base or base_of(overlay))
    names = [known_procedure(name, overlay.laid_in(book.catalogue)) for name in procedures]
    course, player = room.course(course_file, today).course, player_of(hand, longest_club, club)
    made = guide_trial(course, book, overlay, player=player, each=each, procedures=names)
    write_guide(made, out, forms or GUIDE_FORMS, as_json=as_json)
