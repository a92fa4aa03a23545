"""`marram sheet`: sheets for paper and screen."""

from __future__ import annotations

import click

from marram.cli.lazy import lazy_group

_COMMANDS = {
    "procedure": ("marram.cli.sheet.one_procedure", "procedure", "How a procedure is carried out, at a real place of the course."),
    "trial": ("marram.cli.sheet.books", "trial", "A whole trial: what changes, why, what it touches."),
    "relief": ("marram.cli.sheet.books", "relief", "Every relief procedure of a whole book."),
    "strip": ("marram.cli.sheet.strip", "strip", "A measuring strip at true size, to print and cut out."),
}


@click.group(cls=lazy_group(_COMMANDS))
def sheet() -> None:
    """Sheets for paper and screen: a procedure, a trial, a whole edition, a measuring strip."""
