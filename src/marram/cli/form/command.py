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
    from marram.core.json_text import dump
    from marram.core.terms import Form
    from marram.interchange.books.book_files import read_book
    from marram.rulebook.reading.files import packaged_catalogue
    from marram.rulings.acts.form_of_play import Happening, describe_form, known_form, known_happening

    if is_list or form is None:
        listed = {"forms": list(Form), "happens": list(Happening)}
        click.echo(dump(listed) if as_json else f"forms    {', '.join(Form)}\nhappens  {', '.join(Happening)}")
        return
    named, happenings = known_form(form), tuple(known_happening(name) for name in asked) or tuple(Happening)
    opened = [read_book(book) for book in books or tuple(packaged_catalogue().editions)]
    answers = [describe_form(book, named, happenings) for book in opened]
    if as_json:
        click.echo(dump({"books": [form_object(answer) for answer in answers]}))
    else:
        cited = (citation for answer in answers for line in answer.lines for citation in line.citations)
        end = end_of_answer(cited, all_sources=all_sources)
        click.echo("\n\n".join([fill(answers[0].means, width=_WIDTH), *map(_text, answers), end]))


def form_object(answer: FormAnswer) -> dict[str, object]:
    """What is so in the form, as outsiders read it."""
    from marram.answers.rules.ruling_answer import citation_object

    return {
        "book": answer.book,
        "stamp": answer.stamp,
        "form": answer.form.value,
        "means": answer.means,
        "why_none": answer.why_none,
        "lines": [
            {
                "happens": line.happening.value,
                "says": line.says,
                "values": {name: list(value) if isinstance(value, tuple) else value for name, value in line.values.items()},
                "citations": [citation_object(citation) for citation in line.citations],
            }
            for line in answer.lines
        ],
        "not_stated": [happening.value for happening in answer.not_stated],
    }


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
