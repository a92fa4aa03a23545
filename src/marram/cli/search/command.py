"""`marram search`: whether a ball was found in time."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.act.command import act_object
from marram.cli.common import books_option, json_option, rules_line, sources_option, stated_facts
from marram.cli.source_text import end_of_answer
from marram.cli.verdict import not_read_line, settling_line, verdict_lines

if TYPE_CHECKING:
    from marram.rulings.acts.moved_in_search import MovedInSearch
    from marram.rulings.acts.search_clock import SearchAnswer

_WIDTH = 100


@click.command()
@books_option
@click.option(
    "--events", default="", metavar="A@M:SS,…", help="What happened and when, such as start@0:00,found@2:40; --list names the events."
)
@click.option("--list", "is_list", is_flag=True, help="List the events.")
@click.option(
    "--moved-by",
    "mover",
    type=click.Choice(["player", "opponent", "other-player", "outside"]),
    help="Who moved the ball during the search.",
)
@click.option("--fact", "facts", multiple=True, metavar="NAME=true|false", help="A fact about how it was moved; may be repeated.")
@sources_option
@json_option
def search(
    *, books: tuple[str, ...], events: str, is_list: bool, mover: str | None, facts: tuple[str, ...], all_sources: bool, as_json: bool
) -> None:
    """Say where a search stands after its events, and what follows from a ball moved in it, under each book."""
    from marram.core.json_text import dump
    from marram.interchange.books.book_files import read_book
    from marram.rulebook.reading.files import packaged_catalogue
    from marram.rulings.acts.acts import facts_not_read, refuse_unread
    from marram.rulings.acts.moved_in_search import Mover, facts_of_moved, rule_on_moved
    from marram.rulings.acts.search_clock import SearchEvent, follow_search, read_timed

    if is_list:
        click.echo(dump({"events": list(SearchEvent)}) if as_json else "\n".join(SearchEvent))
        return
    timed = read_timed(events)
    if facts and mover is None:
        raise click.UsageError("--fact says how a ball was moved: name who moved it with --moved-by.")
    opened = [read_book(book) for book in books or tuple(packaged_catalogue().editions)]
    read_by = [() if mover is None else facts_of_moved(book, Mover(mover)) for book in opened]
    known = stated_facts(facts, packaged_catalogue().facts, read_by)
    refuse_unread(known, read_by, f"a ball moved by the {mover}")
    answers = [follow_search(book, timed) for book in opened]
    moved = [None if mover is None else rule_on_moved(book, Mover(mover), known) for book in opened]
    told = list(zip(answers, moved, (facts_not_read(known, read) for read in read_by), strict=True))
    if as_json:
        objects = [search_object(answer) | moved_object(by) | {"facts_not_read": list(not_read)} for answer, by, not_read in told]
        click.echo(dump({"books": objects}))
    else:
        click.echo(_whole(told, all_sources=all_sources))


def _whole(told: list[tuple[SearchAnswer, MovedInSearch | None, tuple[str, ...]]], *, all_sources: bool) -> str:
    """The answers of all books, what is still to be stated, and the sources."""
    acts = [act for _, by, _ in told if by is not None for act in by.acts]
    asked = settling_line(fact for act in acts for turn in act.turns for fact in turn.facts)
    cited = [citation for answer, _, _ in told for citation in answer.citations] + [citation for act in acts for citation in act.citations]
    wrapped = (fill(line, width=_WIDTH, break_on_hyphens=False) for line in asked)
    return "\n\n".join([*(_text(*entry) for entry in told), *wrapped, end_of_answer(cited, all_sources=all_sources)])


def search_object(answer: SearchAnswer) -> dict[str, object]:
    """Where the search stands, as outsiders read it."""
    from marram.answers.rules.ruling_answer import citation_object

    return {
        "book": answer.book,
        "stamp": answer.stamp,
        "state": answer.state.value,
        "limit_s": answer.limit_s,
        "searched_s": answer.searched_s,
        "left_s": answer.left_s,
        "other_ball": answer.other_ball.value,
        "penalty_strokes": answer.penalty_strokes,
        "says": answer.says,
        "not_stated": list(answer.not_stated),
        "citations": [citation_object(citation) for citation in answer.citations],
    }


def moved_object(moved: MovedInSearch | None) -> dict[str, object]:
    """What follows from a ball moved in the search; nothing where none was."""
    from marram.answers.rules.ruling_answer import citation_object

    if moved is None:
        return {}
    return {
        "moved": {
            "by": moved.mover.value,
            "acts": [act_object(answer) for answer in moved.acts],
            "situations": list(moved.situations),
            "citations": [citation_object(citation) for citation in moved.citations],
        }
    }


def _text(answer: SearchAnswer, moved: MovedInSearch | None, not_read: tuple[str, ...]) -> str:
    lines = [
        answer.says,
        *(f"The book does not state {words}; it was counted." for words in answer.not_stated),
        rules_line(answer.citations),
        *not_read_line(answer.book, not_read),
    ]
    for act in () if moved is None else moved.acts:
        headline, *asked = verdict_lines(act)
        lines += [f"{act.means.rstrip('.')}: {headline}", *asked, rules_line(act.citations)]
    if moved is not None and moved.situations:
        lines.append(f"The ball is put back without penalty where the book says so: marram rule, situation {', '.join(moved.situations)}.")
    told = [fill(line, width=_WIDTH, initial_indent="   ", subsequent_indent="   ") for line in lines]
    return "\n".join([f"{answer.book}  [{answer.stamp}]", *told])
