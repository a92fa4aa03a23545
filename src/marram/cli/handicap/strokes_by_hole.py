"""`marram handicap strokes` and `net-double-bogey`: strokes on holes, and the most that each counts."""

from __future__ import annotations

import click

from marram.cli.common import json_option, sources_option
from marram.cli.handicap.figure_text import handicap_books_option, put_out

_INDEXES = "Stroke index of each hole, apart by commas: 18, or those of nine holes."


@click.command()
@click.option("--handicap", required=True, metavar="HANDICAP", help="Course or Playing Handicap for these holes, such as 14 or +2.")
@click.option("--stroke-index", required=True, metavar="N,N,…", help=_INDEXES)
@handicap_books_option
@sources_option
@json_option
def strokes(*, handicap: str, stroke_index: str, books: tuple[str, ...], all_sources: bool, as_json: bool) -> None:
    """Say on which holes strokes are received, or given back by a plus handicap."""
    from marram.office.handicaps.lay_strokes import lay_strokes
    from marram.office.workroom import Workroom

    put_out(lay_strokes(Workroom().handicap_books(books), handicap, stroke_index), all_sources=all_sources, as_json=as_json)


@click.command("net-double-bogey")
@click.option("--handicap", required=True, metavar="HANDICAP", help="The full Course Handicap for these holes; none without an Index.")
@click.option("--stroke-index", required=True, metavar="N,N,…", help=_INDEXES)
@click.option("--par", required=True, metavar="N,N,…", help="Par of each hole, apart by commas.")
@click.option("--gross", default="", metavar="N,N,…", help="Strokes on each hole; - picked up, n not played for a valid reason.")
@handicap_books_option
@sources_option
@json_option
def net_double_bogey(
    *, handicap: str, stroke_index: str, par: str, gross: str, books: tuple[str, ...], all_sources: bool, as_json: bool
) -> None:
    """Say the most that each hole counts for handicap, and what a card comes to."""
    from marram.office.handicaps.lay_strokes import limit_holes
    from marram.office.workroom import Workroom

    found = limit_holes(Workroom().handicap_books(books), handicap, stroke_index, par, gross)
    put_out(found, all_sources=all_sources, as_json=as_json)
