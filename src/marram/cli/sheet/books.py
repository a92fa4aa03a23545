"""`marram sheet trial` and `marram sheet relief`: a whole trial, and all relief of a whole book, on paper."""

from __future__ import annotations

from pathlib import Path

import click

from marram.cli.common import one_book_option, write_whole
from marram.cli.writing import file_option

_out = file_option("-o", "--out", required=True, help="The PDF file to write.")


@click.command()
@click.argument("trial", metavar="TRIAL")
@click.option("--on", "base", metavar="BOOK", help="The book that the trial lies on; the latest edition that it is written for if none.")
@_out
def trial(trial: str, base: str | None, out: Path) -> None:
    """Set a sheet of the whole TRIAL: each change, why, whether a local rule may bring it in, and what it touches."""
    from marram.office.trials.guide_file import guide_file
    from marram.office.trials.make_guide import base_of, tell_trial
    from marram.office.workroom import Workroom

    room = Workroom()
    overlay = room.overlay(trial)
    write_whole(out, guide_file(tell_trial(room.book(base or base_of(overlay)), overlay), "a4"))
    click.echo(f"Written: {out}", err=True)


@click.command()
@one_book_option("--book", does="An edition, or an edition with overlays.")
@_out
def relief(book: str, out: Path) -> None:
    """Set a sheet of every relief procedure of a book, with its measures and its rule."""
    from marram.office.sheets.print_sheet import print_relief
    from marram.office.workroom import Workroom

    write_whole(out, print_relief(Workroom().book(book)))
    click.echo(f"Written: {out}", err=True)
