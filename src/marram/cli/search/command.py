"""`marram search`: whether a ball was found in time."""

from __future__ import annotations

from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, json_option, rules_line, sources_option, stated_facts
from marram.cli.source_text import end_of_answer
from marram.cli.verdict import not_read_line, settling_line, verdict_lines

if TYPE_CHECKING:
    from collections.abc import Sequence

    from marram.office.play.time_search import SearchTimed

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
    from marram.answers.rules.search_answer import search_answers, search_events
    from marram.answers.shape import json_text
    from marram.office.play.time_search import list_search_events, time_search
    from marram.office.workroom import Workroom

    if is_list:
        names = list_search_events()
        click.echo(json_text(search_events(names)) if as_json else "\n".join(names))
        return
    if facts and mover is None:
        raise click.UsageError("--fact says how a ball was moved: name who moved it with --moved-by.")
    timed = time_search(Workroom().books(books), events, moved_by=mover or "", stated=stated_facts(facts))
    click.echo(json_text(search_answers(timed)) if as_json else _whole(timed, all_sources=all_sources))


def _whole(timed: Sequence[SearchTimed], *, all_sources: bool) -> str:
    """The answers of all books, what is still to be stated, and the sources."""
    acts = [act for one in timed if one.moved is not None for act in one.moved.acts]
    asked = settling_line(fact for act in acts for turn in act.turns for fact in turn.facts)
    cited = [citation for one in timed for citation in one.answer.citations] + [citation for act in acts for citation in act.citations]
    wrapped = (fill(line, width=_WIDTH, break_on_hyphens=False) for line in asked)
    return "\n\n".join([*map(_text, timed), *wrapped, end_of_answer(cited, all_sources=all_sources)])


def _text(timed: SearchTimed) -> str:
    answer, moved = timed.answer, timed.moved
    lines = [
        answer.says,
        *(f"The book does not state {words}; it was counted." for words in answer.not_stated),
        rules_line(answer.citations),
        *not_read_line(answer.book, timed.facts_not_read),
    ]
    for act in () if moved is None else moved.acts:
        headline, *asked = verdict_lines(act)
        lines += [f"{act.means.rstrip('.')}: {headline}", *asked, rules_line(act.citations)]
    if moved is not None and moved.situations:
        lines.append(f"The ball is put back without penalty where the book says so: marram rule, situation {', '.join(moved.situations)}.")
    told = [fill(line, width=_WIDTH, initial_indent="   ", subsequent_indent="   ") for line in lines]
    return "\n".join([f"{answer.book}  [{answer.stamp}]", *told])
