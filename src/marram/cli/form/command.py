"""`marram form`: what is so in a form of play, under each edition."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, json_option, rules_line, sources_option
from marram.cli.source_text import end_of_answer

if TYPE_CHECKING:
    from marram.rulings.acts.form_of_play import FormAnswer

_WIDTH = 100


@click.command()
@click.argument("form", required=False)
@books_option
@click.option(
    "--happens", "asked", multiple=True, metavar="WHAT", help="Ask one thing, such as picked-up; may be repeated; --list names all."
)
@click.option("--list", "is_list", is_flag=True, help="List the forms and what may be asked.")
@sources_option
@json_option
def form(form: str | None, *, books: tuple[str, ...], asked: tuple[str, ...], is_list: bool, all_sources: bool, as_json: bool) -> None:
    """Say what is so in a FORM of play: what counts, what ends a hole, what a ball picked up, lost or not holed out means."""
    from marram.answers.rules.form_answer import form_answers, form_list
    from marram.answers.shape import json_text
    from marram.office.play.tell_form import list_forms, tell_form
    from marram.office.workroom import Workroom

    if is_list or form is None:
        listed = list_forms()
        names = f"forms    {', '.join(listed.forms)}\nhappens  {', '.join(listed.happens)}"
        click.echo(json_text(form_list(listed)) if as_json else names)
        return
    answers = tell_form(Workroom().books(books), form, asked)
    if as_json:
        click.echo(json_text(form_answers(answers)))
    else:
        cited = (citation for answer in answers for line in answer.lines for citation in line.citations)
        end = end_of_answer(cited, all_sources=all_sources)
        click.echo("\n\n".join([fill(answers[0].means, width=_WIDTH), *map(_text, answers), end]))


def _text(answer: FormAnswer) -> str:
    lines = [f"{answer.book}  [{answer.stamp}]"]
    if answer.why_none:
        lines.append(_filled(f"There is no such form here: {answer.why_none}."))
    lines += [_filled(f"{line.says} {rules_line(line.citations)}") for line in answer.lines]
    if answer.not_stated:
        lines.append(_filled(f"Not stated: {', '.join(happening.value for happening in answer.not_stated)}."))
    return "\n".join(lines)


def _filled(told: str) -> str:
    return fill(told, width=_WIDTH, initial_indent="   ", subsequent_indent="      ", break_on_hyphens=False)
