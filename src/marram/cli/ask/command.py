"""`marram ask`: one place for everything that can be asked, found by the words of whoever asks."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, json_option

if TYPE_CHECKING:
    from collections.abc import Sequence

    from marram.office.play.ask import Lead, Leads

_WIDTH, _TOLD = 100, 6


@click.command()
@click.argument("words", nargs=-1, required=True)
@books_option
@json_option
def ask(words: tuple[str, ...], *, books: tuple[str, ...], as_json: bool) -> None:
    """Find what WORDS are about, put as players put it: acts, things, relief, the drop, the search, forms of play, local rules."""
    from marram.answers.rules.ask_answer import ask_answer
    from marram.answers.shape import json_text
    from marram.cli.ask.going_on import go_on
    from marram.office.play.ask import ask_under_books
    from marram.office.workroom import Workroom

    leads = ask_under_books(" ".join(words), Workroom().books(books) if books else (), books)
    click.echo(json_text(ask_answer(leads, go_on)) if as_json else _text(leads))


def _text(leads: Leads) -> str:
    warned = [fill(f"Caution. {text}", width=_WIDTH, subsequent_indent="   ") for text in leads.cautions]
    return "\n\n".join([*warned, _answered(leads)])


def _answered(leads: Leads) -> str:
    if leads.answer.is_covered:
        return _listed(leads.found[:_TOLD])
    about = f": {leads.answer.subject}" if leads.answer.subject else ""
    parts = [fill(f"Not covered{about}. {leads.says}", width=_WIDTH)]
    parts += [f"Nearest, if one of these was meant:\n\n{_listed(leads.nearest)}"] if leads.nearest else []
    return "\n\n".join(parts)


def _listed(leads: Sequence[Lead]) -> str:
    return "\n\n".join(_one(lead) for lead in leads)


def _one(lead: Lead) -> str:
    from marram.cli.ask.going_on import go_on

    command, needs = go_on(lead)
    lines = [f"{lead.found.entry.kind.value}: {lead.found.entry.title}", command]
    lines += [f"needs {needs}"] if needs else []
    lines += [f"not in {book}: {why}" for book, why in lead.missing]
    return "\n".join(
        fill(line, width=_WIDTH, initial_indent="   " if number else "", subsequent_indent="      ", break_on_hyphens=False)
        for number, line in enumerate(lines)
    )
