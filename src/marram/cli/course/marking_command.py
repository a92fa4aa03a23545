"""`marram course marking`: where the marking leaves a player nowhere good to drop."""

from __future__ import annotations

import sys
import time
from pathlib import Path

import click

from marram.cli.common import DRAWING_FORMS, books_option, edition_in_force, folder_at, json_option, write_drawing
from marram.cli.today import today_option, today_text
from marram.cli.writing import folder_option
from marram.core.words import counted


@click.command()
@click.argument("course", type=click.Path(path_type=Path))
@today_option
@books_option
@click.option("--longest-club", default=46.0, show_default=True, metavar="INCHES", help="Longest club other than a putter.")
@click.option("--tolerance", default=0.10, show_default=True, metavar="METRES", help="How far stakes may leave the curve they mark.")
@folder_option("--draw", help="Write a drawing of each place, and of the course, here.")
@click.option("--form", type=click.Choice(DRAWING_FORMS), default="svg", show_default=True, help="How the drawings are written.")
@json_option
def marking(
    course: Path,
    *,
    today: Path | None,
    books: tuple[str, ...],
    longest_club: float,
    tolerance: float,
    draw: Path | None,
    form: str,
    as_json: bool,
) -> None:
    """Try lateral relief at every place of every edge of the COURSE that gives it, for each hole played over it."""
    from marram.answers.courses.marking_answer import course_marking_answer
    from marram.answers.shape import json_text
    from marram.cli.course.marking_tables import marking_text
    from marram.office.courses.check_marking import check_marking
    from marram.office.courses.draw_ground import draw_marking_found
    from marram.office.workroom import Workroom

    start_s = time.perf_counter()
    room = Workroom()
    opened = [room.book(name) for name in books or (edition_in_force(),)]
    check = check_marking(room.course(course, today), opened, longest_club_in=longest_club, tolerance_m=tolerance)
    tried = sum(found.tried for found in check.under)
    click.echo(f"{counted(tried, 'crossing point')} in {time.perf_counter() - start_s:.2f} s, reading the course included.", err=True)
    if draw is not None:
        draw = folder_at(draw)
        for name, text in draw_marking_found(check):
            write_drawing((draw / name).with_suffix(f".{form}"), text)
        click.echo(f"Drawn: {draw}", err=True)
    click.echo(json_text(course_marking_answer(check)) if as_json else marking_text(check) + today_text(check.day))
    sys.exit(1 if check.faults else 0)
