"""`marram event print`: the papers of an event as PDF."""

from __future__ import annotations

from pathlib import Path

import click

from marram.cli.common import write_whole
from marram.cli.event.event_options import event_option, store_option
from marram.cli.writing import file_option


@click.command("print")
@click.argument("paper", type=click.Choice(["starting-list", "cards", "results", "local-rules"]))
@file_option("-o", "out", required=True, help="Write the paper to a .pdf.")
@click.option("--round", "number", type=click.IntRange(1, 8), help="The round; without it the last that has a starting list.")
@event_option
@store_option
def print_(paper: str, *, out: Path, number: int | None, asked: str, store_at: str) -> None:
    """Print a PAPER of an event, A4 in black and white, one that screen readers can follow."""
    from marram.office.events.event_papers import print_event
    from marram.office.workroom import Workroom

    room = Workroom()
    write_whole(out, print_event(room.event(room.store(store_at), asked), paper, out.suffix, number))
    click.echo(f"Written: {out}", err=True)
