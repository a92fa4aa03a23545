"""`marram drop`: what follows in a drop."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, json_option, rules_line, sources_option
from marram.cli.source_text import end_of_answer

if TYPE_CHECKING:
    from marram.rulings.drop.dropping import DropAnswer

_WIDTH = 100


@click.command()
@books_option
@click.option("--procedure", default="", metavar="P", help="The relief that is dropped for: marram book list shows the rows.")
@click.option("--events", default="", metavar="A,B,…", help="What happened, in order; --list names the events.")
@click.option("--list", "is_list", is_flag=True, help="List the events.")
@sources_option
@json_option
def drop(*, books: tuple[str, ...], procedure: str, events: str, is_list: bool, all_sources: bool, as_json: bool) -> None:
    """Say where a drop stands after its events and what to do next, under each book."""
    from marram.answers.rules.drop_answer import drop_answers, drop_events
    from marram.answers.shape import json_text
    from marram.office.play.follow_drop import follow_drop
    from marram.office.workroom import Workroom

    if is_list:
        listed = drop_events()
        click.echo(json_text(listed) if as_json else "\n".join(listed.events))
        return
    answers = follow_drop(Workroom().books(books), procedure, events)
    if as_json:
        click.echo(json_text(drop_answers(answers)))
    else:
        end = end_of_answer((citation for answer in answers for citation in answer.citations), all_sources=all_sources)
        click.echo("\n\n".join([*map(_text, answers), end]))


def _text(answer: DropAnswer) -> str:
    lines = [
        f"{answer.book}  [{answer.stamp}]",
        fill(answer.instruction, width=_WIDTH, initial_indent="   ", subsequent_indent="   "),
        f"   {answer.drop.stage.value}; drops counted: {answer.drop.counted}; penalty strokes in the drop: {answer.drop.penalty_strokes}",
        fill(rules_line(answer.citations), width=_WIDTH, initial_indent="   ", subsequent_indent="      "),
    ]
    return "\n".join(lines)
