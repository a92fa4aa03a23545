"""`marram course draw`: a hole, or the whole course, to scale."""

from __future__ import annotations

from pathlib import Path

import click

from marram.cli.common import is_for_paper, write_drawing
from marram.cli.today import today_option
from marram.cli.writing import file_option


@click.command()
@click.argument("course", type=click.Path(path_type=Path))
@today_option
@click.option("--hole", type=int, metavar="N", help="The hole; the whole course if none.")
@file_option("-o", "--out", required=True, help="The file to write: .svg, .pdf or .png.")
@click.option(
    "--paper", type=click.Choice(["a4", "a3", "a2", "a1"]), help="Draw for a sheet of paper, at a stated scale. PDF and PNG are: a4."
)
@click.option("--names", is_flag=True, help="Name every green, tee, line and hole location; those of no hole are named anyway.")
@click.option("--scale", type=click.IntRange(1), metavar="N", help="On paper 1:N; the largest fair scale that fits if none.")
def draw(course: Path, *, today: Path | None, hole: int | None, out: Path, names: bool, paper: str | None, scale: int | None) -> None:
    """Draw a hole of the COURSE, or all of it."""
    from marram.office.courses.draw_ground import draw_ground, draw_ground_on_paper
    from marram.office.workroom import Workroom

    ground = Workroom().course(course, today).course
    if paper is not None or scale is not None or is_for_paper(out):
        write_drawing(out, draw_ground_on_paper(ground, hole=hole, paper=paper or "a4", scale=scale, names_all=names))
    else:
        write_drawing(out, draw_ground(ground, hole=hole, names_all=names))
    click.echo(f"Drawn: {out}", err=True)
