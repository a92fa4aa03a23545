"""`marram store`: backup, restore and verify what is kept of events."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option
from marram.cli.event.event_options import store_option
from marram.core.words import counted

if TYPE_CHECKING:
    from marram.answers.events.store_answer import StoreAnswer

_FILE = click.Path(path_type=Path, dir_okay=False)


@click.group()
def store() -> None:
    """Back up, restore and verify the store of events."""


@store.command()
@click.option("-o", "copy_to", required=True, type=_FILE, metavar="FILE", help="Where the backup goes; nothing may be there yet.")
@store_option
@json_option
def backup(*, copy_to: Path, store_at: str, as_json: bool) -> None:
    """Copy the store while others may go on writing, and look through the copy."""
    from marram.answers.events.store_answer import store_answer
    from marram.office.events.keep_store import back_up

    answer = store_answer(back_up(store_at, copy_to))
    _print(answer, f"Backed up to {copy_to}", as_json=as_json)


@store.command()
@click.argument("backup_file", metavar="BACKUP", type=_FILE)
@store_option
@json_option
def restore(backup_file: Path, *, store_at: str, as_json: bool) -> None:
    """Put a BACKUP in the place of a store that is lost; a store that is there is left alone."""
    from marram.answers.events.store_answer import store_answer
    from marram.office.events.keep_store import restore as put_back
    from marram.office.events.keep_store import store_words

    answer = store_answer(put_back(backup_file, store_at))
    _print(answer, f"Restored to {store_words(store_at)}", as_json=as_json)


@store.command()
@store_option
@json_option
@click.pass_context
def verify(context: click.Context, *, store_at: str, as_json: bool) -> None:
    """Look through every row by its number, its stamp and what it supersedes; ends with 1 where anything is wrong."""
    from marram.answers.events.store_answer import store_answer
    from marram.office.events.keep_store import store_words
    from marram.office.events.keep_store import verify as look_through

    answer = store_answer(look_through(store_at))
    _print(answer, store_words(store_at), as_json=as_json)
    context.exit(0 if answer.sound else 1)


def _print(answer: StoreAnswer, about: str, *, as_json: bool) -> None:
    from marram.answers.shape import json_text

    if as_json:
        click.echo(json_text(answer))
        return
    click.echo(f"{about}: {'sound' if answer.sound else 'not sound'}, {counted(len(answer.events), 'event')}, schema {answer.migration}")
    for event in answer.events:
        click.echo(f"  {event.event}: {counted(event.rows, 'row')}, stamp {event.stamp}")
        for fault in event.faults:
            click.echo(f"    {fault}")
    for fault in answer.faults:
        click.echo(f"  {fault}")
