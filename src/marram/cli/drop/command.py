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
    from marram.core.json_text import dump
    from marram.interchange.books.book_files import read_books
    from marram.office.find_places import known_procedure
    from marram.rulebook.reading.files import packaged_catalogue
    from marram.rulings.drop.dropping import guide_drop, read_events
    from marram.rulings.drop.states import DropEvent

    if is_list:
        click.echo(dump({"events": list(DropEvent)}) if as_json else "\n".join(DropEvent))
        return
    happened = read_events(events)
    opened = read_books(books or tuple(packaged_catalogue().editions))
    name = known_procedure(procedure, opened[0].catalogue) if procedure else ""
    answers = [guide_drop(book, name, happened) for book in opened]
    if as_json:
        click.echo(dump({"books": [drop_object(answer) for answer in answers]}))
    else:
        end = end_of_answer((citation for answer in answers for citation in answer.citations), all_sources=all_sources)
        click.echo("\n\n".join([*map(_text, answers), end]))


def drop_object(answer: DropAnswer) -> dict[str, object]:
    """Where the drop stands, as outsiders read it."""
    from marram.answers.ruling_answer import citation_object

    cost = answer.if_played
    return {
        "book": answer.book,
        "stamp": answer.stamp,
        "procedure": answer.procedure,
        "state": answer.drop.stage.value,
        "instruction": answer.instruction,
        "drops_counted": answer.drop.counted,
        "penalty_strokes": answer.drop.penalty_strokes,
        "match_play": {"strokes": answer.drop.match_strokes, "hole": "lost" if answer.drop.loses_hole else ""},
        "if_played": None if cost is None else {"stroke_play": cost.in_stroke_play, "match_play": cost.in_match_play},
        "can_follow": list(answer.can_follow),
        "citations": [citation_object(citation) for citation in answer.citations],
    }


def _text(answer: DropAnswer) -> str:
    lines = [
        f"{answer.book}  [{answer.stamp}]",
        fill(answer.instruction, width=_WIDTH, initial_indent="   ", subsequent_indent="   "),
        f"   {answer.drop.stage.value}; drops counted: {answer.drop.counted}; penalty strokes in the drop: {answer.drop.penalty_strokes}",
        fill(rules_line(answer.citations), width=_WIDTH, initial_indent="   ", subsequent_indent="      "),
    ]
    return "\n".join(lines)
