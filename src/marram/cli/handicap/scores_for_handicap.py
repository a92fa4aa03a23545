"""`marram handicap differential` and `index`: scores into an Index."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, rules_once_line, sources_option
from marram.cli.handicap.figure_text import handicap_books_option, handicap_end, holes_option, put_out, wrapped

if TYPE_CHECKING:
    from collections.abc import Sequence

    from marram.office.handicaps.find_index import IndexFound


@click.command()
@click.option("--gross", required=True, metavar="STROKES", help="Adjusted gross score.")
@click.option("--rating", required=True, metavar="RATING", help="Course Rating of the holes played.")
@click.option("--slope", required=True, metavar="SLOPE", help="Slope Rating of the holes played.")
@holes_option
@click.option("--conditions", default="0", show_default=True, metavar="STROKES", help="Playing-conditions adjustment of the day, whole.")
@click.option("--second", default="", metavar="GROSS/RATING/SLOPE", help="The other nine, where a book joins two.")
@click.option("--expected", default="", metavar="DIFFERENTIAL", help="Expected differential of the other nine; not published: state it.")
@handicap_books_option
@sources_option
@json_option
def differential(
    *,
    gross: str,
    rating: str,
    slope: str,
    holes: str,
    conditions: str,
    second: str,
    expected: str,
    books: tuple[str, ...],
    all_sources: bool,
    as_json: bool,
) -> None:
    """Work out the Score Differential of 18 holes, of two nines, or of nine holes with an expected differential."""
    from marram.office.handicaps.make_differential import ScoreAsked, make_differential
    from marram.office.workroom import Workroom

    asked = ScoreAsked(
        gross=gross, course_rating=rating, slope=slope, holes=int(holes), conditions=conditions, expected=expected, second=second
    )
    put_out(make_differential(Workroom().handicap_books(books), asked), all_sources=all_sources, as_json=as_json)


@click.command()
@click.argument("record", type=click.Path(exists=True, path_type=Path, dir_okay=False))
@click.option("--low-index", default="", metavar="INDEX", help="The Low Index before the last day, where it is known from elsewhere.")
@click.option(
    "--on", "on", default=None, type=click.DateTime(["%Y-%m-%d"]), help="The day of the record: no score may lie after it; else today."
)
@handicap_books_option
@sources_option
@json_option
def index(*, record: Path, low_index: str, on: datetime | None, books: tuple[str, ...], all_sources: bool, as_json: bool) -> None:
    """Follow a RECORD of scores (CSV or workbook) to its end: the Index, what counted, and what moved it."""
    from marram.answers.handicaps.handicap_index_answer import index_answers
    from marram.answers.shape import json_text
    from marram.office.handicaps.find_index import find_index
    from marram.office.workroom import Workroom

    room = Workroom()
    opened = room.handicap_books(books)
    found = find_index(opened, room.handicap_record(record, opened, _last_day(on)), low_index=low_index)
    if as_json:
        click.echo(json_text(index_answers(found)))
        return
    cited = [citation for one in found for citation in one.citations]
    click.echo("\n\n".join([*map(_index_text, found), handicap_end(cited, all_sources=all_sources)]))


def _last_day(on: datetime | None) -> date:
    return datetime.now().astimezone().date() if on is None else on.date()


def _index_text(found: IndexFound) -> str:
    told = "none yet" if found.shown is None else found.shown
    counting = [_rows(entry.rows) for entry in found.record if entry.counts]
    counts = [wrapped(f"Counting: row {', '.join(counting)}.")] if counting else []
    lines = [f"{found.book}  [{found.stamp}]", f"   Handicap Index {told}", *map(wrapped, found.says), *counts]
    return "\n".join([*lines, wrapped(rules_once_line(found.citations))])


def _rows(rows: Sequence[int]) -> str:
    return "+".join(map(str, rows))
