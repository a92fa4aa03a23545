"""`marram sheet procedure`: how one procedure is carried out, at a real place of the course."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, edition_in_force, json_option
from marram.cli.today import today_option
from marram.cli.trial.guide_files import GUIDE_FORMS, player_of, player_options, write_guide
from marram.cli.writing import folder_option

if TYPE_CHECKING:
    from marram.office.trials.guide_file import GuideForm


@click.command()
@click.argument("procedures", metavar="PROCEDURE...", nargs=-1, required=True)
@click.option("--course", "course_file", required=True, type=click.Path(path_type=Path), help="The course on which it is shown.")
@books_option
@click.option("--form", "forms", multiple=True, type=click.Choice(GUIDE_FORMS), help="Which forms to write; all if none.")
@folder_option("--out", "-o", required=True, help="The folder to write to.")
@today_option
@player_options
@json_option
def procedure(
    procedures: tuple[str, ...],
    course_file: Path,
    books: tuple[str, ...],
    *,
    forms: tuple[GuideForm, ...],
    out: Path,
    today: Path | None,
    hand: str,
    longest_club: float,
    club: str,
    as_json: bool,
) -> None:
    """Make the sheet of one or more PROCEDUREs; with two books, the first is told as before and the second as now."""
    from marram.office.courses.find_places import known_procedure
    from marram.office.trials.make_guide import guide_procedures
    from marram.office.workroom import Workroom

    if len(books) > 2:
        raise click.UsageError(f"Give one book, or two: before and now; {len(books)} were given.")
    room = Workroom()
    opened = room.books(books or (edition_in_force(),))
    names = [known_procedure(name, opened[0].catalogue) for name in procedures]
    course, player = room.course(course_file, today).course, player_of(hand, longest_club, club)
    made = guide_procedures(course, opened, names, player=player)
    write_guide(made, out, forms or GUIDE_FORMS, as_json=as_json)
