"""`marram suspension`: what to do when play stops, and how it goes on."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, json_option, rules_line, sources_option
from marram.cli.source_text import end_of_answer

if TYPE_CHECKING:
    from collections.abc import Sequence

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
    from marram.answers.rules.suspension_answer import suspension_answers
    from marram.answers.shape import json_text
    from marram.office.play.stop_play import stop_play
    from marram.office.workroom import Workroom

    answers = stop_play(Workroom().books(books), signal, is_hole_begun=not between_holes)
    if as_json:
        click.echo(json_text(suspension_answers(answers)))
    else:
        cited = [citation for answer in answers for citation in answer.citations]
        cited += [citation for answer in answers for act in answer.acts for citation in act.citations]
        end = end_of_answer(cited, all_sources=all_sources)
        click.echo("\n\n".join([*dict.fromkeys(_cautions(answers)), *map(_text, answers), end]))


def _cautions(answers: Sequence[SuspensionAnswer]) -> list[str]:
    return [fill(f"Caution. {caution.text}", width=_WIDTH, subsequent_indent="   ") for answer in answers for caution in answer.cautions]


def _text(answer: SuspensionAnswer) -> str:
    lines = [*answer.now, *answer.then, rules_line(answer.citations)]
    for act in answer.acts:
        if act.case is not None:
            lines += [f"{act.means.rstrip('.')}: {act.says(act.case)}", rules_line(act.citations)]
    told = [fill(line, width=_WIDTH, initial_indent="   ", subsequent_indent="   ") for line in lines]
    return "\n".join([f"{answer.book}  [{answer.stamp}]", *told])
