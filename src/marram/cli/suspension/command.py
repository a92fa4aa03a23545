"""`marram suspension`: what to do when play stops, and how it goes on."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.act.command import act_object
from marram.cli.common import books_option, json_option, rules_line, sources_option
from marram.cli.source_text import end_of_answer

if TYPE_CHECKING:
    from marram.rulings.acts.suspension import SuspensionAnswer

_WIDTH = 100


@click.command()
@books_option
@click.option(
    "--signal",
    type=click.Choice(["immediate", "normal", "unasked"]),
    default="immediate",
    show_default=True,
    help="The Committee's signal, or unasked where a player stops alone.",
)
@click.option("--between-holes", is_flag=True, help="The player has not begun the next hole.")
@sources_option
@json_option
def suspension(*, books: tuple[str, ...], signal: str, between_holes: bool, all_sources: bool, as_json: bool) -> None:
    """Say what everybody does when play is stopped, what it costs not to, and how play goes on, under each book."""
    from marram.core.json_text import dump
    from marram.interchange.books.book_files import read_book
    from marram.rulebook.reading.files import packaged_catalogue
    from marram.rulings.acts.suspension import Signal, rule_on_suspension

    opened = [read_book(book) for book in books or tuple(packaged_catalogue().editions)]
    answers = [rule_on_suspension(book, Signal(signal), is_hole_begun=not between_holes) for book in opened]
    if as_json:
        click.echo(dump({"books": [suspension_object(answer) for answer in answers]}))
    else:
        cited = [citation for answer in answers for citation in answer.citations]
        cited += [citation for answer in answers for act in answer.acts for citation in act.citations]
        end = end_of_answer(cited, all_sources=all_sources)
        click.echo("\n\n".join([*dict.fromkeys(_cautions(answers)), *map(_text, answers), end]))


def suspension_object(answer: SuspensionAnswer) -> dict[str, object]:
    """What the book says, as outsiders read it."""
    from marram.answers.rules.ruling_answer import citation_object

    return {
        "book": answer.book,
        "stamp": answer.stamp,
        "signal": answer.signal.value,
        "may_finish_hole": answer.may_finish_hole,
        "cautions": [caution.text for caution in answer.cautions],
        "now": list(answer.now),
        "then": list(answer.then),
        "acts": [act_object(act) for act in answer.acts],
        "citations": [citation_object(citation) for citation in answer.citations],
    }


def _cautions(answers: list[SuspensionAnswer]) -> list[str]:
    return [fill(f"Caution. {caution.text}", width=_WIDTH, subsequent_indent="   ") for answer in answers for caution in answer.cautions]


def _text(answer: SuspensionAnswer) -> str:
    lines = [*answer.now, *answer.then, rules_line(answer.citations)]
    for act in answer.acts:
        if act.case is not None:
            lines += [f"{act.means.rstrip('.')}: {act.says(act.case)}", rules_line(act.citations)]
    told = [fill(line, width=_WIDTH, initial_indent="   ", subsequent_indent="   ") for line in lines]
    return "\n".join([f"{answer.book}  [{answer.stamp}]", *told])
