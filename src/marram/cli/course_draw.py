"""`marram course draw`: a hole, or the whole course, to scale."""

from __future__ import annotations

from pathlib import Path

import click

from marram.cli.common import write_whole
from marram.cli.today import today_option


@click.command()
@click.argument("course", type=click.Path(path_type=Path))
@today_option
@click.option("--hole", type=int, metavar="N", help="The hole; the whole course if none.")
@click.option("-o", "--out", required=True, type=click.Path(path_type=Path), help="The SVG file to write.")
def draw(course: Path, today: Path | None, hole: int | None, out: Path) -> None:
    """Draw a hole of the COURSE, or all of it."""
    from marram.office.open_course import open_course
    from marram.sheets.course_drawing import draw_course

    write_whole(out, draw_course(open_course(course, today), hole=hole))
    click.echo(f"Drawn: {out}", err=True)
