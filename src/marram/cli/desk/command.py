"""`marram desk`: open the bench in a browser on this machine."""

from __future__ import annotations

from pathlib import Path

import click

from marram.cli.common import books_option

USUAL_PORT = 8642


@click.command()
@click.option(
    "--folder", type=click.Path(path_type=Path), default=Path(), show_default="here", help="The folder of courses, trials and days."
)
@click.option("--course", "course", default="", metavar="NAME", help="The course that is shown first, by its name in the folder.")
@books_option
@click.option("--port", type=click.IntRange(0, 65535), default=USUAL_PORT, show_default=True, help="The port; 0 for any that is free.")
@click.option("--open/--no-open", "opens", default=True, show_default=True, help="Open a browser.")
def desk(folder: Path, *, course: str, books: tuple[str, ...], port: int, opens: bool) -> None:
    """Open the ruling desk in a browser: balls put on the ground, options drawn, books beside each other.

    It listens on this machine alone. The address that is printed carries the start token; Ctrl+C stops the desk.
    """
    from marram.desk.rulings.ruling_process import DeskAsked
    from marram.desk.server.start_desk import start_desk

    asked = DeskAsked(folder=folder, books=books)
    start_desk(asked, port=port, course=course, opens=opens, tell=click.echo)
