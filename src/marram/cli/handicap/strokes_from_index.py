"""`marram handicap course` and `playing`: what an Index gives on a set of tees, and what of it is played off."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, rules_once_line, sources_option
from marram.cli.handicap.figure_text import handicap_books_option, holes_option, put_out, wrapped

if TYPE_CHECKING:
    from collections.abc import Sequence

    from marram.office.handicaps.give_course_handicap import IndexOnTees
    from marram.office.handicaps.give_playing_handicap import FormatsListed

_RATING = "Course Rating of the holes played, such as 71.4."


@click.command()
@click.option("--index", required=True, metavar="INDEX", help="Handicap Index, such as 12.2 or +2.4.")
@click.option("--slope", required=True, metavar="SLOPE", help="Slope Rating of the holes played.")
@click.option("--rating", default="", metavar="RATING", help=_RATING)
@click.option("--par", default="", metavar="PAR", help="Par of the holes played.")
@holes_option
@handicap_books_option
@sources_option
@json_option
def course(*, index: str, slope: str, rating: str, par: str, holes: str, books: tuple[str, ...], all_sources: bool, as_json: bool) -> None:
    """Work out the Course Handicap that an Index gives on a set of tees, over 18 holes or nine."""
    from marram.office.handicaps.give_course_handicap import give_course_handicap
    from marram.office.workroom import Workroom

    found = give_course_handicap(Workroom().handicap_books(books), _on_tees(index, slope, rating, par, holes))
    put_out(found, all_sources=all_sources, as_json=as_json)


@click.command()
@click.option("--index", default="", metavar="INDEX", help="Handicap Index, with the tees.")
@click.option("--slope", default="", metavar="SLOPE", help="Slope Rating of the holes played.")
@click.option("--rating", default="", metavar="RATING", help=_RATING)
@click.option("--par", default="", metavar="PAR", help="Par of the holes played.")
@holes_option
@click.option(
    "--course-handicap", "courses", multiple=True, metavar="HANDICAP", help="Instead: a Course Handicap before rounding; repeat for others."
)
@click.option("--format", "format_", default="", metavar="FORMAT", help="The format, whose recommended allowance is taken (--list).")
@click.option("--allowance", default="", metavar="PCT", help="Instead: the allowance of the terms, per cent.")
@click.option("--lowest-par", default="", metavar="PAR", help="Where totals are compared from different tees: the lowest par among them.")
@click.option("--lowest-rating", default="", metavar="RATING", help="The same of Course Rating, for a book that levels by it.")
@click.option("--list", "is_list", is_flag=True, help="List the formats with their allowances.")
@handicap_books_option
@sources_option
@json_option
def playing(
    *,
    index: str,
    slope: str,
    rating: str,
    par: str,
    holes: str,
    courses: tuple[str, ...],
    format_: str,
    allowance: str,
    lowest_par: str,
    lowest_rating: str,
    is_list: bool,
    books: tuple[str, ...],
    all_sources: bool,
    as_json: bool,
) -> None:
    """Work out the Playing Handicap of a player, a side, or the players of a match, by the allowance of a format."""
    from marram.office.handicaps.give_playing_handicap import PlayingAsked, give_playing_handicap, list_formats
    from marram.office.workroom import Workroom

    opened = Workroom().handicap_books(books)
    if is_list:
        _put_out_formats(list_formats(opened), as_json=as_json)
        return
    asked = PlayingAsked(
        on_tees=_on_tees(index, slope, rating, par, holes) if index or slope or rating or par else None,
        course_handicaps=courses,
        format=format_,
        allowance_pct=allowance,
        lowest_par=lowest_par,
        lowest_rating=lowest_rating,
    )
    put_out(give_playing_handicap(opened, asked), all_sources=all_sources, as_json=as_json)


def _put_out_formats(found: Sequence[FormatsListed], *, as_json: bool) -> None:
    from marram.answers.handicaps.rounds_answer import format_answers
    from marram.answers.shape import json_text

    if as_json:
        click.echo(json_text(format_answers(found)))
        return
    for listed in found:
        click.echo(f"{listed.book}  [{listed.stamp}]")
        for allowance in listed.formats:
            click.echo(wrapped(f"{allowance.name:24}{allowance.pct:26}{allowance.means}"))
        click.echo(wrapped(rules_once_line(listed.citations)))


def _on_tees(index: str, slope: str, rating: str, par: str, holes: str) -> IndexOnTees:
    from marram.office.handicaps.give_course_handicap import IndexOnTees

    return IndexOnTees(index=index, slope=slope, course_rating=rating, par=par, holes=int(holes))
