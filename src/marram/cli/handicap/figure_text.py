"""Figures of handicaps as text, and the option of their books."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from textwrap import fill
from typing import TYPE_CHECKING

import click

from marram.cli.common import rules_once_line
from marram.cli.source_text import end_of_answer

if TYPE_CHECKING:
    from marram.core.citations import Citation
    from marram.office.handicaps.worked_figures import HandicapWorkedOut, HoleWorkedOut

_WIDTH = 100

handicap_books_option = click.option(
    "--book",
    "books",
    multiple=True,
    metavar="BOOK",
    help="An edition of the Rules of Handicapping, or one with variants (2024+half-index-to-a-tenth); may be repeated.",
)
holes_option = click.option("--holes", type=click.Choice(["18", "9"]), default="18", show_default=True, help="Holes played.")


def put_out(found: Sequence[HandicapWorkedOut], *, all_sources: bool, as_json: bool) -> None:
    """Print figures under each book, as text or as one JSON object."""
    from marram.answers.handicaps.handicap_answer import handicap_answers
    from marram.answers.shape import json_text

    if as_json:
        click.echo(json_text(handicap_answers(found)))
        return
    cited = (citation for one in found for citation in one.citations)
    click.echo("\n\n".join([*map(_text, found), handicap_end(cited, all_sources=all_sources)]))


def handicap_end(citations: Iterable[Citation], *, all_sources: bool) -> str:
    """What stands last in an answer about handicaps."""
    return end_of_answer(citations, all_sources=all_sources, of_handicaps=True)


def wrapped(told: str) -> str:
    """A line of an answer, wrapped and set in."""
    return fill(told, width=_WIDTH, initial_indent="   ", subsequent_indent="      ", break_on_hyphens=False)


def _text(found: HandicapWorkedOut) -> str:
    before = "" if found.figure.value == found.figure.unrounded else f" ({found.shown_unrounded} before rounding)"
    lines = [f"{found.book}  [{found.stamp}]", wrapped(f"{found.called} {found.shown}{before}")]
    lines += [wrapped(told) for told in found.says]
    lines += _table(found.holes)
    lines += [f"   Course Handicap {player.given}: Playing Handicap {player.shown}, receives {player.receives}" for player in found.players]
    return "\n".join([*lines, wrapped(rules_once_line(found.citations))])


def _table(holes: Sequence[HoleWorkedOut]) -> list[str]:
    """Holes as columns under their names; a column that no hole fills is left out."""
    named = [
        ("hole", [str(hole.place) for hole in holes]),
        ("index", [str(hole.stroke_index) for hole in holes]),
        ("par", ["" if hole.par is None else str(hole.par) for hole in holes]),
        ("strokes", [str(hole.strokes) for hole in holes]),
        ("most", ["" if hole.most is None else str(hole.most) for hole in holes]),
        ("gross", list(map(_gross, holes)) if any(hole.counts for hole in holes) else []),
        ("counts", ["" if hole.counts is None else str(hole.counts) for hole in holes]),
    ]
    filled = [(name, cells) for name, cells in named if any(cells)]
    if not holes:
        return []
    rows = [[name for name, _ in filled], *([cells[place] for _, cells in filled] for place in range(len(holes)))]
    return ["   " + "".join(cell.rjust(9) for cell in row) for row in rows]


def _gross(hole: HoleWorkedOut) -> str:
    return "n" if not hole.is_played else "-" if hole.gross is None else str(hole.gross)
