"""`marram search`: whether a ball was found in time."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, json_option

if TYPE_CHECKING:
    from marram.rulings.search_clock import SearchAnswer

_WIDTH = 100


@click.command()
@books_option
@click.option(
    "--events", default="", metavar="A@M:SS,…", help="What happened and when, such as start@0:00,found@2:40; --list names the events."
)
@click.option("--list", "is_list", is_flag=True, help="List the events.")
@json_option
def search(*, books: tuple[str, ...], events: str, is_list: bool, as_json: bool) -> None:
    """Say where a search stands after its events, under each book."""
    from marram.interchange.answers import dump
    from marram.interchange.book_files import read_book
    from marram.rulebook.files import packaged_catalogue
    from marram.rulings.search_clock import SearchEvent, follow_search, read_timed

    if is_list:
        click.echo(dump({"events": list(SearchEvent)}) if as_json else "\n".join(SearchEvent))
        return
    timed = read_timed(events)
    answers = [follow_search(read_book(book), timed) for book in books or tuple(packaged_catalogue().editions)]
    click.echo(dump({"books": [search_object(answer) for answer in answers]}) if as_json else "\n\n".join(map(_text, answers)))


def search_object(answer: SearchAnswer) -> dict[str, object]:
    """Where the search stands, as outsiders read it."""
    from marram.interchange.answers import citation_object

    return {
        "book": answer.book,
        "stamp": answer.stamp,
        "state": answer.state.value,
        "limit_s": answer.limit_s,
        "searched_s": answer.searched_s,
        "left_s": answer.left_s,
        "says": answer.says,
        "not_stated": list(answer.not_stated),
        "citations": [citation_object(citation) for citation in answer.citations],
    }


def _text(answer: SearchAnswer) -> str:
    rules = "; ".join(dict.fromkeys(f"{citation.reference}, {citation.provenance}" for citation in answer.citations))
    lines = [answer.says, *(f"The book does not state {words}; it was counted." for words in answer.not_stated), f"[{rules}]"]
    told = [fill(line, width=_WIDTH, initial_indent="   ", subsequent_indent="   ") for line in lines]
    return "\n".join([f"{answer.book}  [{answer.stamp}]", *told])
