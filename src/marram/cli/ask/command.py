"""`marram ask`: one place for everything that can be asked, found by the words of whoever asks."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, json_option

if TYPE_CHECKING:
    from collections.abc import Sequence

    from marram.answers.rules.asking_answer import Told
    from marram.office.ask import Lead, Leads

_WIDTH, _TOLD = 100, 6


@click.command()
@click.argument("words", nargs=-1, required=True)
@books_option
@json_option
def ask(words: tuple[str, ...], *, books: tuple[str, ...], as_json: bool) -> None:
    """Find what WORDS are about, put as players put it: acts, things, relief, the drop, the search, forms of play, local rules."""
    from marram.answers.rules.asking_answer import ask_object
    from marram.core.json_text import dump
    from marram.office.ask import ask_under_books

    leads = ask_under_books(" ".join(words), books)
    if as_json:
        found, nearest = ([_told(lead) for lead in some] for some in (leads.found, leads.nearest))
        click.echo(dump(ask_object(leads.answer, [book.name for book in leads.books], found, nearest, leads.cautions)))
    else:
        click.echo(_text(leads))


def _told(lead: Lead) -> Told:
    from marram.cli.ask.going_on import command_under, needs_of

    return lead.found, command_under(lead.found.entry, lead.books), needs_of(lead.found), lead.missing


def _text(leads: Leads) -> str:
    warned = [fill(f"Caution. {text}", width=_WIDTH, subsequent_indent="   ") for text in leads.cautions]
    return "\n\n".join([*warned, _answered(leads)])


def _answered(leads: Leads) -> str:
    from marram.asking.finding import COVERED

    if leads.answer.is_covered:
        return _listed(leads.found[:_TOLD])
    about = f": {leads.answer.subject}" if leads.answer.subject else ""
    parts = [fill(f"Not covered{about}. {COVERED}", width=_WIDTH)]
    parts += [f"Nearest, if one of these was meant:\n\n{_listed(leads.nearest)}"] if leads.nearest else []
    return "\n\n".join(parts)


def _listed(leads: Sequence[Lead]) -> str:
    return "\n\n".join(_one(lead) for lead in leads)


def _one(lead: Lead) -> str:
    found, command, needs, _ = _told(lead)
    lines = [f"{found.entry.kind.value}: {found.entry.title}", command]
    lines += [f"needs {needs}"] if needs else []
    lines += [f"not in {book}: {why}" for book, why in lead.missing]
    return "\n".join(
        fill(line, width=_WIDTH, initial_indent="   " if number else "", subsequent_indent="      ", break_on_hyphens=False)
        for number, line in enumerate(lines)
    )
