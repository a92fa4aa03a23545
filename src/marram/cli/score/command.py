"""`marram score`: places of a competition from its cards and terms, each charge with its rule."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import books_option, edition_in_force, json_option, sources_option, write_whole
from marram.cli.source_text import end_of_answer
from marram.cli.writing import file_option

if TYPE_CHECKING:
    from collections.abc import Iterator

    from marram.core.citations import Citation
    from marram.scoring.ranked import Results


@click.command()
@click.argument("cards", type=click.Path(path_type=Path))
@click.option("--terms", required=True, type=click.Path(path_type=Path), metavar="FILE", help="The terms of the competition (TOML).")
@books_option
@file_option("-o", "out", help="Write the places to a CSV file as well.")
@click.option("--holes", "with_holes", is_flag=True, help="Show every hole of every card.")
@sources_option
@json_option
def score(
    cards: Path, *, terms: Path, books: tuple[str, ...], out: Path | None, with_holes: bool, all_sources: bool, as_json: bool
) -> None:
    """Score a table of CARDS by the terms of a competition: places, what decided each, every charge with its rule.

    Without --book the edition in force is taken.
    """
    from marram.answers.scores.score_answer import score_answers
    from marram.answers.shape import json_text
    from marram.cli.score.result_lines import result_lines
    from marram.office.scoring.results_table import results_table
    from marram.office.scoring.score_cards import score_cards
    from marram.office.workroom import Workroom

    room = Workroom()
    opened = room.books(books or (edition_in_force(),))
    competition = room.competition(cards, terms)
    results = score_cards(opened, competition)
    if out is not None:
        write_whole(out, results_table(results))
    for remark in competition.remarks:
        click.echo(f"marram: {remark}", err=True)
    if as_json:
        click.echo(json_text(score_answers(results, competition.terms, competition.remarks)))
        return
    form = f"{competition.terms.form.value}, {'net' if competition.terms.is_net else 'gross'}"
    told = ["\n".join(result_lines(one, form, with_holes=with_holes)) for one in results]
    end = end_of_answer(_cited(results), all_sources=all_sources)
    click.echo("\n\n".join([competition.terms.title, *told, end]))


def _cited(results: tuple[Results, ...]) -> Iterator[Citation]:
    from marram.office.scoring.results_table import rules_behind

    return (citation for one in results for citation in rules_behind(one))
