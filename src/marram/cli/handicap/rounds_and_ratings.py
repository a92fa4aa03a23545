"""`marram handicap accept`, `most-likely`, `stroke-index` and `slope`: what counts, a hole not finished, and how a course is rated."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from marram.cli.common import json_option, rules_once_line, sources_option
from marram.cli.handicap.figure_text import handicap_books_option, handicap_end, holes_option, put_out, wrapped

if TYPE_CHECKING:
    from marram.office.handicaps.accept_score import ScoreAccepted

_NEEDS = ("authorized-format", "enough-holes", "in-company", "by-the-rules-of-golf", "rated-course", "active-season")


@click.command()
@click.option("--played", required=True, metavar="HOLES", help="Holes that were at least begun.")
@holes_option
@click.option("--format", "format_", default="", metavar="FORMAT", help="The format, such as match-play; else one that counts everywhere.")
@click.option("--lacks", multiple=True, type=click.Choice(_NEEDS), help="What does not hold of the round; may be repeated.")
@click.option("--no-valid-reason", is_flag=True, help="Holes were left out without a valid reason.")
@click.option("--association", type=click.Choice(["accepts", "does-not"]), help="Whether the national association accepts the format.")
@click.option("--breach", default="", metavar="BREACH", help="A breach, such as disqualified-without-advantage or penalty-left-out.")
@click.option("--under", default="", metavar="BOOK", help="The rule book played by, such as 2023+trial.toml; else the Rules of Golf.")
@click.option("--approved", is_flag=True, help="Its changes were approved in writing by the authorized association.")
@click.option("--length-yd", default="", metavar="YD", help="Length of the course, yards.")
@handicap_books_option
@sources_option
@json_option
def accept(
    *,
    played: str,
    holes: str,
    format_: str,
    lacks: tuple[str, ...],
    no_valid_reason: bool,
    association: str | None,
    breach: str,
    under: str,
    approved: bool,
    length_yd: str,
    books: tuple[str, ...],
    all_sources: bool,
    as_json: bool,
) -> None:
    """Say whether a score counts for handicap, as what, and if not, why."""
    from marram.answers.handicaps.rounds_answer import accept_answers
    from marram.answers.shape import json_text
    from marram.office.handicaps.accept_score import RoundAsked, accept_score
    from marram.office.workroom import Workroom

    room = Workroom()
    asked = RoundAsked(
        played=played,
        holes=int(holes),
        format=format_,
        lacks=lacks,
        has_valid_reason=not no_valid_reason,
        association_accepts=None if association is None else association == "accepts",
        breach=breach,
        are_changes_approved=approved,
        length_yd=length_yd,
    )
    found = accept_score(room.handicap_books(books), asked, room.book(under) if under else None)
    if as_json:
        click.echo(json_text(accept_answers(found)))
        return
    cited = [citation for one in found for citation in one.citations]
    click.echo("\n\n".join([*map(_accept_text, found), handicap_end(cited, all_sources=all_sources)]))


@click.command("most-likely")
@click.option("--taken", required=True, metavar="STROKES", help="Strokes made on the hole, and penalty strokes.")
@click.option("--distance", required=True, metavar="LENGTH", help="How far the ball lay from the hole, such as 15yd, 4ft or 1.2m.")
@handicap_books_option
@sources_option
@json_option
def most_likely(*, taken: str, distance: str, books: tuple[str, ...], all_sources: bool, as_json: bool) -> None:
    """Say which most likely scores a hole may be given that was begun and not finished."""
    from marram.answers.handicaps.rounds_answer import likely_answers
    from marram.answers.shape import json_text
    from marram.office.handicaps.finish_hole import finish_hole
    from marram.office.workroom import Workroom

    found = finish_hole(Workroom().handicap_books(books), taken, distance)
    if as_json:
        click.echo(json_text(likely_answers(found)))
        return
    cited = [citation for one in found for citation in one.citations]
    texts = ["\n".join([f"{one.book}  [{one.stamp}]", wrapped(one.says), wrapped(rules_once_line(one.citations))]) for one in found]
    click.echo("\n\n".join([*texts, handicap_end(cited, all_sources=all_sources)]))


@click.command("stroke-index")
@click.option("--stroke-index", required=True, metavar="N,N,…", help="Stroke index of each of the 18 holes, apart by commas.")
@json_option
def stroke_index(*, stroke_index: str, as_json: bool) -> None:
    """Hold stroke indexes against what is recommended for spreading them; ends with 1 where a number lacks or stands twice."""
    from marram.answers.handicaps.rounds_answer import index_check_answer
    from marram.answers.shape import json_text
    from marram.core.terms import ADVICE
    from marram.office.handicaps.rate_course import check_indexes

    checks = check_indexes(stroke_index)
    if as_json:
        click.echo(json_text(index_check_answer(checks)))
    else:
        for check in checks:
            click.echo(wrapped(f"{check.id}  {'kept    ' if check.holds else 'not kept'}  {check.asks} [{check.source}]"))
        click.echo(ADVICE)
    if not checks[0].holds:
        raise click.exceptions.Exit(1)


@click.command()
@click.option("--rating", required=True, metavar="RATING", help="Course Rating.")
@click.option("--bogey-rating", required=True, metavar="RATING", help="Bogey rating.")
@click.option("--for", "rated_for", required=True, type=click.Choice(["men", "women"]), help="For whom it is rated.")
@handicap_books_option
@sources_option
@json_option
def slope(*, rating: str, bogey_rating: str, rated_for: str, books: tuple[str, ...], all_sources: bool, as_json: bool) -> None:
    """Work out the Slope Rating that a Course Rating and a bogey rating give."""
    from marram.office.handicaps.rate_course import give_slope
    from marram.office.workroom import Workroom

    found = give_slope(Workroom().handicap_books(books), rating, bogey_rating, rated_for)
    put_out(found, all_sources=all_sources, as_json=as_json)


def _accept_text(found: ScoreAccepted) -> str:
    return "\n".join([f"{found.book}  [{found.stamp}]", *map(wrapped, found.says), wrapped(rules_once_line(found.citations))])
