"""`marram event new`, `list` and `enter`: an event begins, and players enter."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option
from marram.cli.event.event_options import event_option, hand_of, reason_option, store_option, who_option

if TYPE_CHECKING:
    from collections.abc import Iterator

    from marram.answers.events.event_answer import EventNewAnswer

_FILE = click.Path(path_type=Path, dir_okay=False)


@click.command()
@click.argument("terms", type=_FILE)
@click.option("--event", "asked", default="", metavar="NAME", help="Its name in the store; without it one is made of the title.")
@click.option("--book", default="", metavar="BOOK", help="The book; goes before that of the terms, and without both the edition in force.")
@store_option
@who_option
@json_option
def new(terms: Path, *, asked: str, book: str, store_at: str, who: str | None, as_json: bool) -> None:
    """Begin an event by its TERMS, kept with the stamps of the books that they name."""
    from marram.answers.events.event_answer import event_new_answer
    from marram.answers.shape import json_text
    from marram.cli.common import edition_in_force
    from marram.office.events.run_event import begin_event, name_of
    from marram.office.workroom import Workroom

    room = Workroom()
    given = room.event_terms(terms)
    asked_book = book or given.terms.book or edition_in_force()
    opened = room.book(asked_book)
    name = asked or name_of(given.terms.terms.title)
    store = room.store(store_at, is_new=True)
    begin_event(store, hand_of(who), name, given, (asked_book, opened))
    answer = event_new_answer(room.event(store, name))
    if as_json:
        click.echo(json_text(answer))
        return
    click.echo("\n".join(_begun(answer)))


def _begun(answer: EventNewAnswer) -> Iterator[str]:
    yield f"{answer.event}: {answer.title}, under {answer.under.book} [{answer.under.stamp}], handicaps by {answer.handicapping}."
    yield from [answer.under.says] if answer.under.says else []


@click.command("terms")
@click.argument("terms", type=_FILE, required=False)
@click.option("--book", default="", metavar="BOOK", help="The book; without it that of the terms, or the one that the event has.")
@event_option
@store_option
@who_option
@reason_option
@json_option
def terms_(terms: Path | None, *, book: str, asked: str, store_at: str, who: str | None, reason: str, as_json: bool) -> None:
    """Set the TERMS anew, or without them go on under the books as they are now; what stood is kept, with the reason."""
    from marram.answers.events.event_answer import event_new_answer
    from marram.answers.shape import json_text
    from marram.office.events.run_event import set_terms
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked, is_strict=False)
    given = room.terms_again(event) if terms is None else room.event_terms(terms)
    chosen = book or (given.terms.book if terms is not None else "") or event.kept.book
    set_terms(store, hand_of(who), event, given, (chosen, room.book(chosen)), reason)
    answer = event_new_answer(room.event(store, event.name))
    click.echo(json_text(answer) if as_json else "\n".join(_begun(answer)))


@click.command("list")
@store_option
def list_(*, store_at: str) -> None:
    """List the events of the store."""
    from marram.office.workroom import Workroom

    names = Workroom().store(store_at).events()
    click.echo("\n".join(names) if names else "There is no event yet.")


@click.command()
@click.argument("entries", type=_FILE)
@event_option
@store_option
@who_option
@reason_option
@json_option
def enter(entries: Path, *, asked: str, store_at: str, who: str | None, reason: str, as_json: bool) -> None:
    """Enter players from a table of ENTRIES (CSV or XLSX): all of them, or with every fault told none."""
    from marram.answers.events.event_answer import event_taken_answer
    from marram.answers.shape import json_text
    from marram.office.events.run_event import enter_players
    from marram.office.workroom import Workroom

    room = Workroom()
    store = room.store(store_at)
    event = room.event(store, asked)
    read = room.entries(entries, event)
    taken = enter_players(store, hand_of(who), event, read.entries, reason)
    for remark in read.remarks:
        click.echo(f"marram: {remark}", err=True)
    answer = event_taken_answer(event, "entries", taken, (), read.remarks)
    if as_json:
        click.echo(json_text(answer))
        return
    click.echo(f"{answer.event}: {answer.added} entered, {answer.changed} put right, {answer.same} as they were.")
    _under(answer.under.says)


def _under(says: str) -> None:
    if says:
        click.echo(says)
