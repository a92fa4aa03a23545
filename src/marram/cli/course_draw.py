"""`marram course draw`: a hole, or the whole course, to scale."""

from __future__ import annotations

from pathlib import Path

import click

from marram.cli.common import write_whole


@click.command()
@click.argument("course", type=click.Path(path_type=Path))
@click.option("--hole", type=int, metavar="N", help="The hole; the whole course if none.")
@click.option("-o", "--out", required=True, type=click.Path(path_type=Path), help="The SVG file to write.")
def draw(course: Path, hole: int | None, out: Path) -> None:
    """Draw a hole of the COURSE, or all of it."""
    from marram.interchange.course_geojson import read_course
    from marram.sheets.course_drawing import draw_course

    write_whole(out, draw_course(read_course(course), hole=hole))
    click.echo(f"Drawn: {out}", err=True)
